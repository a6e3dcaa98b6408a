using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>Rows and columns of a grid.</summary>
/// <param name="Rows">Rows.</param>
/// <param name="Columns">Columns.</param>
internal sealed record GridSize(int Rows, int Columns);

/// <summary>An option that takes the size of a grid: <c>5x6</c>, or the most cells that it may have.</summary>
internal static class GridOption
{
    /// <summary>An option for a grid that may be left out.</summary>
    /// <param name="name">Name with its dashes; its texts have it as their key.</param>
    public static Option<GridSize?> Create(string name) => new(name)
    {
        Description = OptionText.Of(name),
        HelpName = OptionText.Placeholder("grid"),
        CustomParser = result => Parse(result, name),
    };

    private static GridSize? Parse(ArgumentResult result, string name)
    {
        string text = result.Tokens[0].Value;
        string[] parts = text.Split('x');
        if (parts.Length == 2 && IsCount(parts[0], out int rows) && IsCount(parts[1], out int columns)
            && IsAxis(rows) && IsAxis(columns)) return new(rows, columns);
        if (parts.Length == 1 && IsCount(text, out int most) && most is >= 4 and <= NextCardOptions.MostValues * NextCardOptions.MostValues)
            return Within(most);
        result.AddError(CommandLineFaults.Invalid(name, text, new Phrase("option.cells.range",
            ("least", NextCardOptions.FewestValues), ("most", NextCardOptions.MostValues))));
        return null;
    }

    /// <summary>The grid nearest to a square with at most so many cells.</summary>
    private static GridSize Within(int most)
    {
        int rows = (int)Math.Sqrt(most);
        return new(rows, Math.Min(most / rows, NextCardOptions.MostValues));
    }

    private static bool IsCount(string text, out int count) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out count);

    private static bool IsAxis(int count) => count is >= NextCardOptions.FewestValues and <= NextCardOptions.MostValues;
}
