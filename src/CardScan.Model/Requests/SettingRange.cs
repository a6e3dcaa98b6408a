using System.Globalization;
using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Model;

/// <summary>A setting and the values it takes on a card, increasing.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Values">One value where it is the same in every cell, several where it is an axis.</param>
public sealed record SettingRange(Setting Setting, ValueList<double> Values)
{
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

    /// <summary>The unit of a setting's values.</summary>
    private static Unit UnitOf(Setting setting) => setting switch
    {
        Setting.PowerPercent => Unit.Percent,
        Setting.SpeedMmPerMin => Unit.MmPerMin,
        Setting.Passes => Unit.None,
        _ => Unit.Mm,
    };

    /// <summary>
    /// Reads a range: <c>50</c>, <c>10,20,40</c>, <c>20:80:7</c> (seven values, evenly apart), <c>300:4800:5:log</c> (five
    /// values, each the same multiple of the one before) or <c>20:80:/10</c> (steps of ten). Numbers may have their unit
    /// behind them, or one unit at the end for all: <c>5mm/s,10mm/s</c>, <c>5:50:5%</c>.
    /// </summary>
    /// <param name="setting">The setting the values are of; each must lie in its range.</param>
    /// <param name="text">The text; the decimal sign is the point.</param>
    /// <returns>The range, or one line that names the option, what was found and what to give.</returns>
    public static Outcome<SettingRange> Parse(Setting setting, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string option = OptionOf(setting);
        Unit unit = UnitOf(setting);
        Outcome<double[]> read = text.Contains(':', StringComparison.Ordinal) ? Span(option, unit, text) : Listed(option, unit, text);
        if (read.IsRefused) return read.Refusal!;

        double[] values = [.. read.Value.Select(value => Math.Round(value, Decimals))];
        foreach (double value in values)
        {
            if (FaultOf(option, setting, value) is { } fault) return fault;
        }

        return Increasing(option, values) is { } refusal ? refusal : new SettingRange(setting, values.ToValueList());
    }

    /// <summary>Refuses a value that its setting cannot have.</summary>
    /// <param name="option">The option that gave it.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="value">The value.</param>
    /// <returns>The refusal; null where the value is fine.</returns>
    public static Refusal? FaultOf(string option, Setting setting, double value) => PlanRules.ExpectedOf(setting, value) is { } expected
        ? Refusal.OfInput(Codes.PlanValue,
            ("fault", "expected"), ("option", new OptionName(option)), ("value", Given(value)), ("expected", expected))
        : null;

    private static Outcome<double[]> Listed(string option, Unit unit, string text) => InUnit(option, unit, text, text.Split(','));

    private static Outcome<double[]> Span(string option, Unit unit, string text)
    {
        string[] parts = text.Split(':');
        bool isStep = parts.Length > 2 && parts[2].StartsWith('/');
        bool isLog = parts.Length == 4 && parts[3] == "log" && !isStep;
        if (parts.Length != 3 && !isLog) return Fault("syntax", option, ("text", text));

        // A unit behind the count is that of the ends.
        WrittenNumber? count = isStep ? null : WrittenNumber.Read(parts[2]);
        string[] numbers = isStep ? [parts[0], parts[1], parts[2][1..]] : [parts[0], parts[1] + UnitFor(parts[1], count)];
        Outcome<double[]> read = InUnit(option, unit, text, numbers);
        if (read.IsRefused) return read;
        (double start, double end) = (read.Value[0], read.Value[1]);
        if (!(start < end)) return Fault("order", option, ("start", Given(start)), ("end", Given(end)));
        if (isStep) return Stepped(option, start, end, read.Value[2]);
        string values = count?.Number ?? parts[2];
        return isLog ? Multiplied(option, start, end, values) : Counted(option, start, end, values);
    }

    private static string UnitFor(string end, WrittenNumber? count) => WrittenNumber.Read(end) is { Unit: "" } ? count?.Unit ?? "" : "";

    private static Outcome<double[]> InUnit(string option, Unit unit, string text, string[] parts)
    {
        List<WrittenNumber> numbers = [];
        foreach (string part in parts)
        {
            if (WrittenNumber.Read(part) is not { } number) return NoNumber(option, part);
            numbers.Add(number);
        }

        return WrittenNumber.FaultOf(numbers, unit, out double[] values) is { } fault
            ? Fault("unit", option, ("text", text), ("unit", fault))
            : values;
    }

    /// <summary>Rounded to three figures, so that labels stay short; the ends stay as given.</summary>
    private static Outcome<double[]> Multiplied(string option, double start, double end, string text)
    {
        if (!(start > 0)) return Fault("log", option, ("start", Given(start)));
        Outcome<double[]> even = Counted(option, 0, 1, text);
        return even.IsRefused ? even : even.Value.Select(At).ToArray();

        double At(double share) => share is 0 ? start : share is 1 ? end : Rounding.ThreeFigures(start * Math.Pow(end / start, share));
    }

    private static Outcome<double[]> Counted(string option, double start, double end, string text)
    {
        if (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count is < 2 or > PlanRules.MostCells)
            return Fault("count", option, ("text", text), ("most", PlanRules.MostCells));
        return Enumerable.Range(0, count).Select(i => start + (end - start) * i / (count - 1)).ToArray();
    }

    private static Outcome<double[]> Stepped(string option, double start, double end, double step)
    {
        if (!(step > 0)) return Fault("step", option, ("step", Given(step)));

        // A last step that misses the end by rounding alone still counts.
        double steps = Math.Floor((end - start) / step + 1e-9);
        if (steps < 1) return Fault("long-step", option, ("step", Given(step)), ("span", Given(Math.Round(end - start, Decimals))));
        if (steps >= PlanRules.MostCells)
            return Refusal.OfInput(Codes.PlanCells, ("option", new OptionName(option)), ("most", PlanRules.MostCells));
        return Enumerable.Range(0, (int)steps + 1).Select(i => start + i * step).ToArray();
    }

    private static Refusal? Increasing(string option, double[] values)
    {
        for (int i = 1; i < values.Length; i++)
        {
            if (!(values[i] > values[i - 1])) return Fault("repeat", option, ("value", Given(values[i])), ("before", Given(values[i - 1])));
        }

        return null;
    }

    private static Refusal NoNumber(string option, string text) => Fault("number", option, ("text", text.Trim()));

    private static Refusal Fault(string fault, string option, params IEnumerable<(string Name, Figure Value)> values) =>
        Refusal.OfInput(Codes.PlanRange, [("fault", fault), ("option", new OptionName(option)), .. values]);
}
