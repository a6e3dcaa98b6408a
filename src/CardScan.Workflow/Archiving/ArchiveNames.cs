using System.Globalization;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>What a maker's words mean among the machines and materials of an archive.</summary>
internal static class ArchiveNames
{
    /// <summary>The machines that a maker means: of those of a name, the one that is named with what tells it from the others.</summary>
    /// <param name="all">What has machines.</param>
    /// <param name="machine">Its machine.</param>
    /// <param name="name">A name, or a name with what tells it from others of that name.</param>
    public static T[] Named<T>(IEnumerable<T> all, Func<T, Machine> machine, string name)
    {
        T[] known = [.. all];
        T[] whole = [.. known.Where(each => MakerName.AreSame(Voice.Tell(machine(each).ToFigure()), name))];
        return whole.Length > 0 ? whole : [.. known.Where(each => MakerName.AreSame(machine(each).Name, name))];
    }

    /// <summary>True where two machines are one: the same name, watts, wavelength and beam.</summary>
    public static bool AreOne(Machine one, Machine other) =>
        MakerName.AreSame(Voice.Tell(one.ToFigure()), Voice.Tell(other.ToFigure()));

    /// <summary>What materials of one name and thickness have in common.</summary>
    public static string KeyOf(string material, double? thicknessMm) =>
        string.Create(CultureInfo.InvariantCulture, $"{material.Trim().ToUpperInvariant()} {thicknessMm:F2}");
}
