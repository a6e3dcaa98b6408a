using CardScan.Language;

namespace CardScan.Model;

/// <summary>Reads what a person typed for an option, on the command line or on a page: the same is taken and refused in both.</summary>
public static class OptionValue
{
    /// <summary>Reads a number, with its unit or in the usual one, with a decimal point whatever the machine's language.</summary>
    /// <param name="option">The option, with its dashes.</param>
    /// <param name="text">What was typed.</param>
    /// <param name="range">The numbers that are taken.</param>
    public static Outcome<double> Number(string option, string text, NumberRange range)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(range);
        WrittenNumber? number = WrittenNumber.Read(text);
        double value = 0;
        Phrase? fault = number is null ? range.Phrase : number.FaultIn(range.Unit, out value) ?? (range.Takes(value) ? null : range.Phrase);
        if (fault is null) return value;
        return Invalid(option, text, fault, IsNumberWithComma(text) ? text.Replace(',', '.') : null);
    }

    /// <summary>Reads a width and a height, mm: <c>120x100</c>.</summary>
    public static Outcome<CardSize> Size(string option, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        WrittenNumber?[] parts = [.. text.Split('x').Select(WrittenNumber.Read)];
        Phrase? fault = null;
        if (parts is [{ } width, { } height])
        {
            fault = WrittenNumber.FaultOf([width, height], Unit.Mm, out double[] mm);
            if (fault is null && mm[0] > 0 && mm[1] > 0) return new CardSize { WidthMm = mm[0], HeightMm = mm[1] };
        }

        return Invalid(option, text, fault ?? new Phrase("option.size.range"));
    }

    /// <summary>Reads how far a powered Z axis goes down and up, mm: <c>-5:20</c>.</summary>
    public static Outcome<ZTravel> Travel(string option, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        WrittenNumber?[] parts = [.. text.Split(':').Select(WrittenNumber.Read)];
        Phrase? fault = null;
        if (parts is [{ } low, { } high])
        {
            fault = WrittenNumber.FaultOf([low, high], Unit.Mm, out double[] mm);
            if (fault is null && mm[0] <= 0 && mm[1] >= 0) return new ZTravel { LowestMm = mm[0], HighestMm = mm[1] };
        }

        return Invalid(option, text, fault ?? new Phrase("option.powered-z.range"));
    }

    /// <summary>Why a value is not taken.</summary>
    /// <param name="option">The option.</param>
    /// <param name="given">What was given.</param>
    /// <param name="allowed">What to give instead.</param>
    /// <param name="withPoint">The number that was meant, where it has a decimal comma.</param>
    public static Refusal Invalid(string option, string given, Phrase allowed, string? withPoint = null)
    {
        (string, Figure)[] values =
        [
            .. Figures.Known(
                ("option", new OptionName(option)), ("given", given), ("allowed", allowed), ("comma", Figures.Text(withPoint))),
        ];
        return Refusal.OfInput(Codes.PlanValue, values) with
        {
            Seen = Voice.Say("option.invalid.seen", values), Remedy = Voice.Say("option.invalid.remedy", values),
        };
    }

    private static bool IsNumberWithComma(string text) =>
        text.Count(c => c == ',') == 1 && WrittenNumber.Read(text.Replace(',', '.')) is not null;
}
