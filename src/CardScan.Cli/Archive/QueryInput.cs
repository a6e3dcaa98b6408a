using System.CommandLine;
using System.Globalization;
using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>The options that narrow down which cards are meant.</summary>
/// <param name="hasText">True where free words may be given.</param>
internal sealed class QueryInput(bool hasText)
{
    private readonly Argument<string[]> _text = new("word") { Description = "Words to look for", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<string> _material = new("--material") { Description = "Part of the material's name", HelpName = "text" };
    private readonly Option<string> _machine = new("--machine") { Description = "Part of the machine's name", HelpName = "text" };
    private readonly Option<string> _batch = new("--batch") { Description = "Part of the batch's name", HelpName = "text" };
    private readonly Option<string> _tag = new("--tag") { Description = "A tag", HelpName = "word" };
    private readonly Option<double?> _thickness = NumberOption.Create("--thickness", "Thickness of the material, mm", mm => mm is > 0 and <= 1000, "a number of mm above 0");
    private readonly Option<double?> _number = NumberOption.OfCard("The number in the card's markers");
    private readonly Option<string> _process = new("--process") { Description = "How the cells were burned", HelpName = "engrave|cut" };
    private readonly Option<DateOnly?> _from = Day("--from", "Planned or read on this day or later");
    private readonly Option<DateOnly?> _to = Day("--to", "Planned or read on this day or earlier");

    public void AddTo(Command command)
    {
        if (hasText) command.Arguments.Add(_text);
        _process.AcceptOnlyFromAmong("engrave", "cut");
        foreach (Option option in (Option[])[_material, _batch, _machine, _thickness, _process, _number, _tag, _from, _to]) command.Options.Add(option);
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
    private static DateTimeOffset? Start(DateOnly? day) => day is { } known ? new DateTimeOffset(known, TimeOnly.MinValue, TimeSpan.Zero) : null;

    private static Option<DateOnly?> Day(string name, string description) => new(name)
    {
        Description = $"{description} (UTC)",
        HelpName = "yyyy-mm-dd",
        CustomParser = result =>
        {
            if (DateOnly.TryParseExact(result.Tokens[0].Value, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) && day < DateOnly.MaxValue) return day;
            result.AddError($"{name} has \"{result.Tokens[0].Value}\": give a day as yyyy-mm-dd");
            return null;
        },
    };
}
