using System.Globalization;
using System.Text.RegularExpressions;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>A number as somebody wrote it, with the unit behind it where there is one: <c>10mm/s</c>, <c>0.12 in</c>, <c>30%</c>.</summary>
/// <param name="Number">The number alone, as it was written.</param>
/// <param name="Value">Its value.</param>
/// <param name="Unit">The unit as it was written; empty where there is none.</param>
public sealed partial record WrittenNumber(string Number, double Value, string Unit)
{
    /// <summary>The units that are understood, the usual one of its kind first. The inch is 25.4 mm (ISO 80000-3).</summary>
    private static readonly (string Name, Unit Kind, double Factor)[] Units =
    [
        ("mm/min", Language.Unit.MmPerMin, 1), ("mm/s", Language.Unit.MmPerMin, 60), ("m/min", Language.Unit.MmPerMin, 1000),
        ("in/min", Language.Unit.MmPerMin, 25.4), ("in/s", Language.Unit.MmPerMin, 1524),
        ("%", Language.Unit.Percent, 1),
        ("mm", Language.Unit.Mm, 1), ("cm", Language.Unit.Mm, 10), ("in", Language.Unit.Mm, 25.4), ("µm", Language.Unit.Mm, 0.001),
        ("W", Language.Unit.Watts, 1), ("s", Language.Unit.Seconds, 1), ("min", Language.Unit.Seconds, 60),
        ("nm", Language.Unit.Nm, 1), ("µm", Language.Unit.Nm, 1000),
        ("mm/s²", Language.Unit.MmPerS2, 1),
    ];

    private bool HasUnit => Unit.Length > 0;

    /// <summary>Reads a number; null where the text is none. The decimal sign is the point, whatever the machine's language.</summary>
    public static WrittenNumber? Read(string text)
    {
        Match match = Form().Match(text);
        if (!match.Success) return null;
        string number = match.Groups["number"].Value;
        return double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? new(number, value, Spelled(match.Groups["unit"].Value))
            : null;
    }

    /// <summary>Its value in a unit; a bare number is in that unit already.</summary>
    /// <param name="wanted">The unit; <see cref="Language.Unit.None"/> for a count, which takes none.</param>
    /// <param name="value">The value.</param>
    /// <returns>What is wrong with the number's unit, for a message; null where it is right.</returns>
    public Phrase? FaultIn(Unit wanted, out double value)
    {
        Phrase? fault = FaultOf([this], wanted, out double[] values);
        value = fault is null ? values[0] : 0;
        return fault;
    }

    /// <summary>
    /// Values of numbers that belong together, in a unit. A unit behind the last one alone holds for all of them:
    /// <c>300,600mm/min</c>.
    /// </summary>
    /// <param name="numbers">The numbers, one or more.</param>
    /// <param name="wanted">The unit.</param>
    /// <param name="values">Their values.</param>
    /// <returns>What is wrong with their units, for a message; null where they are right.</returns>
    public static Phrase? FaultOf(IReadOnlyList<WrittenNumber> numbers, Unit wanted, out double[] values)
    {
        values = [];
        string last = numbers[^1].Unit;
        if (numbers.Any(number => number.HasUnit) && (last.Length == 0 || !AreAlike(numbers.SkipLast(1))))
            return new("rule.unit-mixed");
        // Somebody who thinks in mm/s and writes 10 must not get 10 mm/min: a beam that slow starts fires.
        if (wanted == Language.Unit.MmPerMin && last.Length == 0 && Voice.Speeds == SpeedUnit.MmPerS)
            return new("rule.unit-needed", ("example", $"{numbers[0].Number}mm/s"), ("other", $"{numbers[0].Number}mm/min"));
        double[] found = new double[numbers.Count];
        for (int i = 0; i < found.Length; i++)
        {
            string unit = numbers[i].HasUnit ? numbers[i].Unit : last;
            if (FactorOf(unit, wanted) is not { } factor) return Foreign(unit, wanted);
            // A tenth of an inch is 2.54 mm, not 2.5400000000000005.
            found[i] = factor == 1 ? numbers[i].Value : Math.Round(numbers[i].Value * factor, 9);
        }

        values = found;
        return null;
    }

    private static bool AreAlike(IEnumerable<WrittenNumber> numbers) => numbers.Select(number => number.HasUnit).Distinct().Count() < 2;

    private static double? FactorOf(string unit, Unit wanted)
    {
        if (unit.Length == 0) return 1;
        foreach ((string name, Unit kind, double factor) in Units)
        {
            if (kind == wanted && name.Equals(unit, StringComparison.OrdinalIgnoreCase)) return factor;
        }

        return null;
    }

    private static Phrase Foreign(string unit, Unit wanted)
    {
        Unit? kind = Units.Where(known => known.Name.Equals(unit, StringComparison.OrdinalIgnoreCase))
            .Select(known => (Unit?)known.Kind).FirstOrDefault();
        string[] names = [.. Units.Where(known => known.Kind == wanted).Select(known => known.Name)];
        return new("rule.unit-other", Figures.Known(
            ("unit", unit), ("kind", kind is { } other ? new Word($"{other}") : null),
            ("names", names.Length == 0 ? null : Figures.List(names))));
    }

    /// <summary>Other ways to write a unit, on keyboards that lack its signs.</summary>
    private static string Spelled(string unit) => unit.Replace("^2", "²", StringComparison.Ordinal) switch
    {
        "mm/s2" => "mm/s²",
        "um" or "μm" => "µm",
        "\"" or "″" => "in",
        string other => other,
    };

    [GeneratedRegex(
        """^\s*(?<number>[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?)\s*(?<unit>[\p{L}%"″][\p{L}0-9/²^]*)?\s*$""",
        RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Form();
}
