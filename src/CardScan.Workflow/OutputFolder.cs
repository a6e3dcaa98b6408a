using System.Text;

namespace CardScan.Workflow;

/// <summary>A folder that results are written into: each file whole or not at all.</summary>
/// <param name="path">Path of the folder; made when the first file is written.</param>
internal sealed class OutputFolder(string path)
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    /// <summary>Writes a text as UTF-8.</summary>
    /// <returns>Path of the file.</returns>
    public string Write(string name, string text) => Write(name, Utf8.GetBytes(text));

    /// <summary>Writes a file under a temporary name beside its place, then renames it: a reader never sees half of it.</summary>
    /// <returns>Path of the file.</returns>
    /// <exception cref="IOException">The folder cannot be made or written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be made or written to.</exception>
    public string Write(string name, byte[] bytes)
    {
        Directory.CreateDirectory(path);
        string place = Path.Combine(path, name);
        string temporary = Path.Combine(path, $".{name}.{Guid.NewGuid():N}.part");
        try
        {
            using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, place, overwrite: true);
            return place;
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
