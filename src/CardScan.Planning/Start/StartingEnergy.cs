using System.Globalization;
using CardScan.Model;

namespace CardScan.Planning;

/// <summary>The table of starting energies by kind of material and laser.</summary>
internal static class StartingEnergies
{
    /// <summary>Thickness of a cut whose plan names none, mm: the usual one of plywood (common practice, no source).</summary>
    public const double UsualThicknessMm = 3;

    private static readonly Lazy<Row[]> Rows = new(() => [.. DataFile.Rows("starting-energies.tsv", '\t').Select(Read)]);

    /// <summary>All rows, for the documents and tests.</summary>
    internal static IReadOnlyList<Row> All => Rows.Value;

    /// <summary>What a kind of material needs of a laser.</summary>
    /// <param name="kind">One of <see cref="MaterialKinds.All"/>.</param>
    /// <param name="process">Engrave or cut.</param>
    /// <param name="wavelengthNm">Of the machine; null for the blue of most diodes.</param>
    /// <returns>The row; null where the table has none for such a laser.</returns>
    public static Row? Find(string kind, Process process, double? wavelengthNm) =>
        LaserOf(wavelengthNm) is { } laser
            ? All.FirstOrDefault(row => row.Kind == kind && row.Process == process && row.Laser == laser)
            : null;

    /// <summary>Name of the group of lasers; null for one that the table does not know.</summary>
    internal static string? LaserOf(double? wavelengthNm) => wavelengthNm switch
    {
        null or (>= 400 and <= 500) => "blue",
        >= 700 and <= 1100 => "infrared",
        >= 9000 and <= 11000 => "co2",
        _ => null,
    };

    private static Row Read(string[] cells) => new(
        cells[0], cells[1] == "cut" ? Process.Cut : Process.Engrave, cells[2],
        Number(cells[3]), Number(cells[4]) ?? 1, Number(cells[5]) ?? 1,
        Enum.Parse<StartBasis>(cells[6], ignoreCase: true), cells[7].Trim('"'));

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value : null;

    /// <summary>A row of the table.</summary>
    /// <param name="Kind">Kind of material.</param>
    /// <param name="Process">Engrave or cut.</param>
    /// <param name="Laser">blue, infrared or co2.</param>
    /// <param name="Energy">J/mm² of a fill; J/mm through 1 mm of a cut; null where this laser does not do it.</param>
    /// <param name="Growth">Power of the thickness with which the energy of a cut grows.</param>
    /// <param name="Factor">One standard deviation, as a factor.</param>
    /// <param name="Basis">What it rests on.</param>
    /// <param name="Source">The source or the reason.</param>
    internal sealed record Row(
        string Kind, Process Process, string Laser, double? Energy, double Growth, double Factor, StartBasis Basis, string Source)
    {
        /// <summary>The energy for a thickness; null where this laser does not do it.</summary>
        public StartingEnergy? For(double thicknessMm) => Energy is not { } energy ? null
            : new(Process == Process.Cut ? energy * Math.Pow(thicknessMm, Growth) : energy, Factor, Basis, Source) { Kind = Kind };
    }
}
