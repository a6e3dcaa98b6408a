using System.Globalization;
using CardScan.Model;

namespace CardScan.Planning;

/// <summary>A setting and the values it takes on a card, increasing.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Values">One value where it is the same in every cell, several where it is an axis.</param>
public sealed record SettingRange(Setting Setting, ValueList<double> Values)
{
    private const string Syntax = "give a number, a list (10,20,30), start:end:count (20:80:7), start:end:count:log (300:4800:5:log) or start:end:/step (20:80:/10)";

    /// <summary>Values are rounded to this many decimals, so that 0.1 steps stay 0.1 steps in the files.</summary>
    private const int Decimals = 6;

    /// <summary>The command-line option that gives a setting; messages name it.</summary>
    public static string OptionOf(Setting setting) => setting switch
    {
        Setting.PowerPercent => "--power",
        Setting.SpeedMmPerMin => "--speed",
        Setting.Passes => "--passes",
        Setting.FocusOffsetMm => "--focus-offset",
        _ => "--line-interval",
    };

    /// <summary>
    /// Reads a range: <c>50</c>, <c>10,20,40</c>, <c>20:80:7</c> (seven values, evenly apart), <c>300:4800:5:log</c> (five
    /// values, each the same multiple of the one before) or <c>20:80:/10</c> (steps of ten).
    /// </summary>
    /// <param name="setting">The setting the values are of; each must lie in its range.</param>
    /// <param name="text">The text; the decimal sign is the point.</param>
    /// <returns>The range, or one line that names the option, what was found and what to give.</returns>
    public static Outcome<SettingRange> Parse(Setting setting, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string option = OptionOf(setting);
        Outcome<double[]> read = text.Contains(':', StringComparison.Ordinal) ? Span(option, text) : List(option, text);
        if (read.IsRefused) return read.Refusal!;

        double[] values = [.. read.Value.Select(value => Math.Round(value, Decimals))];
        foreach (double value in values)
        {
            if (PlanRules.RangeFault(setting, value) is { } expected) return Refusal.OfInput("plan-value", $"{option} has {value}", $"give {expected}");
        }

        return Increasing(option, values) is { } refusal ? refusal : new SettingRange(setting, values.ToValueList());
    }

    private static Outcome<double[]> List(string option, string text)
    {
        string[] parts = text.Split(',');
        double[] values = new double[parts.Length];
        for (int i = 0; i < parts.Length; i++)
        {
            if (!IsNumber(parts[i], out values[i])) return NoNumber(option, parts[i]);
        }

        return values;
    }

    private static Outcome<double[]> Span(string option, string text)
    {
        string[] parts = text.Split(':');
        bool isLog = parts.Length == 4 && parts[3] == "log" && !parts[2].StartsWith('/');
        if (parts.Length != 3 && !isLog) return Refusal.OfInput("plan-range", $"{option} has \"{text}\"", Syntax);
        if (!IsNumber(parts[0], out double start)) return NoNumber(option, parts[0]);
        if (!IsNumber(parts[1], out double end)) return NoNumber(option, parts[1]);
        if (!(start < end)) return Refusal.OfInput("plan-range", $"{option} runs from {start} to {end}", "give the smaller value first, and two different ones");
        if (isLog) return Multiplied(option, start, end, parts[2]);
        return parts[2].StartsWith('/') ? Stepped(option, start, end, parts[2][1..]) : Counted(option, start, end, parts[2]);
    }

    /// <summary>Rounded to three figures, so that labels stay short; the ends stay as given.</summary>
    private static Outcome<double[]> Multiplied(string option, double start, double end, string text)
    {
        if (!(start > 0)) return Refusal.OfInput("plan-range", $"{option} has log values from {start} on", "begin above 0, or leave :log out");
        Outcome<double[]> even = Counted(option, 0, 1, text);
        return even.IsRefused ? even : even.Value.Select(share => share is 0 ? start : share is 1 ? end : ThreeFigures(start * Math.Pow(end / start, share))).ToArray();
    }

    private static double ThreeFigures(double value)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(value)) - 2);
        return Math.Round(value / unit) * unit;
    }

    private static Outcome<double[]> Counted(string option, double start, double end, string text)
    {
        if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count is < 2 or > PlanRules.MostCells)
            return Refusal.OfInput("plan-range", $"{option} asks for \"{text}\" values", $"give a whole number from 2 to {PlanRules.MostCells}, or /step");
        return Enumerable.Range(0, count).Select(i => start + (end - start) * i / (count - 1)).ToArray();
    }

    private static Outcome<double[]> Stepped(string option, double start, double end, string text)
    {
        if (!IsNumber(text, out double step)) return NoNumber(option, text);
        if (!(step > 0)) return Refusal.OfInput("plan-range", $"{option} has a step of {step}", "give a step greater than 0");

        // A last step that misses the end by rounding alone still counts.
        double steps = Math.Floor((end - start) / step + 1e-9);
        if (steps < 1) return Refusal.OfInput("plan-range", $"{option} has a step of {step} in a range of {end - start}", "give a step that fits into the range");
        if (steps >= PlanRules.MostCells) return Refusal.OfInput("plan-cells", $"{option} makes more than {PlanRules.MostCells} values", "give a larger step");
        return Enumerable.Range(0, (int)steps + 1).Select(i => start + i * step).ToArray();
    }

    private static Refusal? Increasing(string option, double[] values)
    {
        for (int i = 1; i < values.Length; i++)
        {
            if (!(values[i] > values[i - 1]))
                return Refusal.OfInput("plan-range", $"{option} has {values[i]} after {values[i - 1]}", "give increasing values, each once");
        }

        return null;
    }

    private static bool IsNumber(string text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    private static Refusal NoNumber(string option, string text) =>
        Refusal.OfInput("plan-range", $"{option} has \"{text.Trim()}\", which is not a number", Syntax);
}
