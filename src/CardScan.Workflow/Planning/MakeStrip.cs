using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>A grey strip to be printed.</summary>
public sealed record StripRequest
{
    /// <summary>Its number; null takes the archive's next free one, 0 where there is no archive.</summary>
    public int? Number { get; init; }

    /// <summary>
    /// Folder for the files; <see cref="CardRequest.FolderOfCard"/> in it stands for a name after the number. Null writes none:
    /// <see cref="CardDownloads"/> makes them of the kept plan.
    /// </summary>
    public string? OutputFolder { get; init; } = CardRequest.FolderOfCard;

    /// <summary>The archive that knows the free numbers and keeps the plan; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }
}

/// <summary>A grey strip and its files.</summary>
/// <param name="Plan">Where its greys and markers are.</param>
/// <param name="Files">Paths of the files written.</param>
/// <param name="Kept">What the archive made of it; null where none is used.</param>
public sealed record MadeStrip(Plan Plan, ValueList<string> Files, Outcome<KeptCard>? Kept);

/// <summary>A grey strip, to be laid beside cards: its plan, and pages to print on either paper.</summary>
public static class MakeStrip
{
    /// <summary>Lays out a strip, writes <c>plan.json</c>, <c>strip-a4.pdf</c> and <c>strip-letter.pdf</c>, and keeps the plan.</summary>
    /// <param name="request">What is asked.</param>
    /// <returns>The strip; or why there is none. Another plan in the folder is never replaced.</returns>
    /// <exception cref="ArgumentNullException">There is no request.</exception>
    public static Outcome<MadeStrip> Run(StripRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request is { Number: null, Archive: { } numbers })
        {
            Outcome<(MadeStrip Made, Outcome<KeptCard> Kept)> numbered =
                FreeNumber.For(numbers, number => CardPlanner.MakeStrip(number), strip => Make(request, strip));
            return numbered.IsRefused ? numbered.Refusal! : numbered.Value.Made with { Kept = numbered.Value.Kept };
        }

        Outcome<MadeStrip> made = Make(request, CardPlanner.MakeStrip(request.Number ?? 0));
        return made.IsRefused || request.Archive is not { } place
            ? made
            : made.Value with { Kept = place.Use(archive => archive.KeepCard(MakeCard.JsonOf(made.Value.Plan)), mayMake: true) };
    }

    private static Outcome<MadeStrip> Make(StripRequest request, Plan strip)
    {
        if (request.OutputFolder is not { } output) return new MadeStrip(strip, [], null);
        string folder = OutputFolder.OfCard(output, strip.Number);
        byte[] json = MakeCard.JsonOf(strip);
        if (CardFiles.FirstObstacle(folder, json) is { } obstacle) return obstacle;
        Outcome<CardFiles> drawn = CardFiles.Of(strip, new());
        if (drawn.IsRefused) return drawn.Refusal!;
        Outcome<ValueList<string>> files = drawn.Value.Write(folder, json);
        return files.IsRefused ? files.Refusal! : new MadeStrip(strip, files.Value, null);
    }
}
