using CardScan.Model;
using CardScan.Reporting;
using CardScan.Scoring.Comparing;

namespace CardScan.Workflow;

/// <summary>Readings from what a person names: a reading's file, or the folder of a report.</summary>
public static class ReadingSource
{
    private const string ReadingName = "reading.json", PictureName = "annotated.png";

    /// <summary>Loads readings, each under a label of its own.</summary>
    /// <param name="paths">Files or folders.</param>
    /// <returns>The readings, labelled by the batches that their plans name where those tell them apart, else by their folders or files.</returns>
    public static Outcome<ValueList<LoadedReading>> Load(ValueList<string> paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        List<(string Path, Reading Reading)> loaded = [];
        foreach (string path in paths)
        {
            string file = Directory.Exists(path) ? Path.Combine(path, ReadingName) : path;
            if (loaded.FirstOrDefault(other => Path.GetFullPath(other.Path) == Path.GetFullPath(file)) is { Path: not null })
                return Refusal.OfInput("reading-twice", $"{path} is given twice", "give each reading once");
            Outcome<Reading> reading = InputFile.ReadReading(file);
            if (reading.IsRefused) return reading.Refusal!;
            loaded.Add((file, reading.Value));
        }

        string[] labels = Labels(loaded);
        return loaded.Select((each, i) => new LoadedReading(new(labels[i], each.Reading), PictureOf(each.Path))).ToValueList();
    }

    private static string[] Labels(List<(string Path, Reading Reading)> loaded)
    {
        string[] batches = [.. loaded.Select(each => each.Reading.Plan.Material.Batch?.Trim() ?? "")];
        if (AreLabels(batches)) return batches;
        string[] folders = [.. loaded.Select(each => Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(each.Path))) ?? "")];
        if (AreLabels(folders)) return folders;
        string[] files = [.. loaded.Select(each => Path.GetFileNameWithoutExtension(each.Path))];
        return AreLabels(files) ? files : [.. loaded.Select(each => each.Path)];
    }

    private static bool AreLabels(string[] labels) =>
        labels.All(label => !string.IsNullOrWhiteSpace(label)) && labels.Distinct(StringComparer.OrdinalIgnoreCase).Count() == labels.Length;

    private static byte[]? PictureOf(string file)
    {
        string picture = Path.Combine(Path.GetDirectoryName(Path.GetFullPath(file))!, PictureName);
        if (!File.Exists(picture)) return null;
        Outcome<byte[]> bytes = InputFile.ReadBytes(picture, "picture");
        return bytes.IsRefused ? null : bytes.Value;
    }
}

/// <summary>A reading with the annotated picture beside it.</summary>
/// <param name="Labelled">The reading under its label.</param>
/// <param name="Picture">The picture's file; null where there is none.</param>
public sealed record LoadedReading(LabelledReading Labelled, byte[]? Picture)
{
    /// <summary>The picture as the page takes it; null where there is none.</summary>
    public ComparedPicture? Compared => Picture is null ? null : new(Labelled.Label, Picture);
}
