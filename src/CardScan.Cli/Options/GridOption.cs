using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using CardScan.Scoring;

namespace CardScan.Cli;

/// <summary>Rows and columns of a grid.</summary>
/// <param name="Rows">Rows.</param>
/// <param name="Columns">Columns.</param>
internal sealed record GridSize(int Rows, int Columns);

/// <summary>An option that takes the size of a grid: <c>5x6</c>, or the most cells that it may have.</summary>
internal static class GridOption
{
    /// <summary>An option for a grid that may be left out.</summary>
    /// <param name="name">Name with its dashes.</param>
    /// <param name="description">What it is.</param>
    public static Option<GridSize?> Create(string name, string description) => new(name)
    {
        Description = description,
        HelpName = "rows>x<columns",
        CustomParser = result => Parse(result, name),
    };

    private static GridSize? Parse(ArgumentResult result, string name)
    {
        string text = result.Tokens[0].Value;
        string[] parts = text.Split('x');
        if (parts.Length == 2 && IsCount(parts[0], out int rows) && IsCount(parts[1], out int columns)
            && IsAxis(rows) && IsAxis(columns)) return new(rows, columns);
        if (parts.Length == 1 && IsCount(text, out int most) && most is >= 4 and <= NextCardOptions.MostValues * NextCardOptions.MostValues) return Within(most);
        result.AddError($"{name} has \"{text}\": give rows and columns from {NextCardOptions.FewestValues} to {NextCardOptions.MostValues}, for instance 5x6, or the most cells that it may have, for instance 30");
        return null;
    }

    /// <summary>The grid nearest to a square with at most so many cells.</summary>
    private static GridSize Within(int most)
    {
        int rows = (int)Math.Sqrt(most);
        return new(rows, Math.Min(most / rows, NextCardOptions.MostValues));
    }

    private static bool IsCount(string text, out int count) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out count);

    private static bool IsAxis(int count) => count is >= NextCardOptions.FewestValues and <= NextCardOptions.MostValues;
}
