namespace CardScan.Language;

/// <summary>Makes the typed values of messages; meant for <c>using static</c>.</summary>
public static class Figures
{
    /// <summary>A speed, mm/min.</summary>
    public static Number Speed(double mmPerMin) => new(mmPerMin, Unit.MmPerMin);

    /// <summary>A power, percent of full power.</summary>
    public static Number Power(double percent) => new(percent, Unit.Percent);

    /// <summary>A share or a probability, 0 to 1.</summary>
    public static Number Share(double share01) => new(share01, Unit.Share);

    /// <summary>A share or a probability with its 95 % interval, each 0 to 1.</summary>
    public static Number Share(double share01, double low, double high) => new(share01, Unit.Share, low, high);

    /// <summary>A length, mm.</summary>
    public static Number Mm(double mm) => new(mm, Unit.Mm);

    /// <summary>A time, s.</summary>
    public static Number Seconds(double seconds) => new(seconds, Unit.Seconds);

    /// <summary>A number as somebody gave it, with all of its digits and without a unit.</summary>
    public static Number Given(double value) => new(value, Unit.Given);

    /// <summary>A number of any unit.</summary>
    public static Number In(Unit unit, double value) => new(value, unit);

    /// <summary>A number of any unit with its 95 % interval.</summary>
    public static Number In(Unit unit, double value, double low, double high) => new(value, unit, low, high);

    /// <summary>Several figures, told one after the other.</summary>
    public static Listing List(IEnumerable<Figure> items) => new([.. items]);

    /// <summary>Several names or texts.</summary>
    public static Listing List(IEnumerable<string> items) => new([.. items.Select(item => (Figure)item)]);

    /// <summary>Several counts or numbers.</summary>
    public static Listing List(IEnumerable<int> items) => new([.. items.Select(item => (Figure)item)]);

    /// <summary>The values that there are: a message tells from what is absent what to leave out.</summary>
    public static IEnumerable<(string Name, Figure Value)> Known(params IEnumerable<(string Name, Figure? Value)> values) =>
        values.Where(value => value.Value is not null).Select(value => (value.Name, value.Value!));

    /// <summary>A text that may be absent or empty; null then.</summary>
    public static Figure? Text(string? text) => string.IsNullOrEmpty(text) ? null : new Word(text);

    /// <summary>"yes" or "no", for a choice in the sentence.</summary>
    public static Word Is(bool condition) => new(condition ? "yes" : "no");
}
