using System.CommandLine;
using System.Globalization;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The options that narrow down which cards are meant.</summary>
/// <param name="hasText">True where free words may be given.</param>
internal sealed class QueryInput(bool hasText)
{
    private readonly Argument<string[]> _text = new("word")
    {
        HelpName = OptionText.Placeholder("word"),
        Description = Voice.Say("option.words.find"), Arity = ArgumentArity.ZeroOrMore,
    };
    private readonly Option<string> _material = new("--material")
    {
        Description = Voice.Say("option.material.find"), HelpName = OptionText.Placeholder("text"),
    };
    private readonly Option<string> _machine = new("--machine")
    {
        Description = Voice.Say("option.machine.find"), HelpName = OptionText.Placeholder("text"),
    };
    private readonly Option<string> _batch = new("--batch")
    {
        Description = Voice.Say("option.batch.find"), HelpName = OptionText.Placeholder("text"),
    };
    private readonly Option<string> _tag = new("--tag")
    {
        Description = Voice.Say("option.tag.find"), HelpName = OptionText.Placeholder("word"),
    };
    private readonly Option<double?> _thickness = NumberOption.OfThickness(new Phrase("option.thickness.find"));
    private readonly Option<double?> _number = NumberOption.OfCard(new Phrase("option.number.find"));
    private readonly Option<string> _process = new("--process")
    {
        Description = Voice.Say("option.process.find"), HelpName = "engrave|cut",
    };
    private readonly Option<DateOnly?> _from = Day("--from");
    private readonly Option<DateOnly?> _to = Day("--to");

    public void AddTo(Command command)
    {
        if (hasText) command.Arguments.Add(_text);
        _process.AcceptOnlyFromAmong("engrave", "cut");
        foreach (Option option in (Option[])[_material, _batch, _machine, _thickness, _process, _number, _tag, _from, _to])
            command.Options.Add(option);
    }

    public ArchiveQuery From(ParseResult parsed) => new()
    {
        Text = hasText ? string.Join(' ', parsed.GetValue(_text) ?? []) : null,
        Material = parsed.GetValue(_material),
        Machine = parsed.GetValue(_machine),
        Batch = parsed.GetValue(_batch),
        Tag = parsed.GetValue(_tag),
        ThicknessMm = parsed.GetValue(_thickness),
        Number = (int?)parsed.GetValue(_number),
        Process = parsed.GetValue(_process) switch { "engrave" => Process.Engrave, "cut" => Process.Cut, _ => null },
        From = Start(parsed.GetValue(_from)),
        Before = Start(parsed.GetValue(_to)?.AddDays(1)),
    };

    /// <summary>Days are those of the archive's own times, UTC.</summary>
    private static DateTimeOffset? Start(DateOnly? day) =>
        day is { } known ? new DateTimeOffset(known, TimeOnly.MinValue, TimeSpan.Zero) : null;

    /// <summary>An option that takes a day.</summary>
    public static Option<DateOnly?> Day(string name) => new(name)
    {
        Description = OptionText.Of(name),
        HelpName = OptionText.Placeholder("day"),
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
                && day < DateOnly.MaxValue) return day;
            result.AddError(CommandLineFaults.Invalid(name, text, new Phrase("option.day.range")));
            return null;
        },
    };
}
