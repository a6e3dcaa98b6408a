using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>What is looked for in the archive, as the fields of a form have it.</summary>
internal static class QueryForm
{
    private static readonly string[] Processes = ["", "engrave", "cut"];

    private static readonly string[] Fields = ["text", "process", "thickness", "from", "to"];

    /// <summary>The query; a field that cannot be read asks for nothing.</summary>
    public static ArchiveQuery From(IQueryCollection fields, int most) => new()
    {
        Text = fields["text"],
        Process = fields["process"].ToString() switch { "engrave" => Process.Engrave, "cut" => Process.Cut, _ => null },
        ThicknessMm = WrittenNumber.Read(fields["thickness"].ToString()) is { } written && written.FaultIn(Unit.Mm, out double mm) is null
            ? mm
            : null,
        From = Day(fields["from"], 0),
        Before = Day(fields["to"], 1),
        Most = most,
    };

    /// <summary>The form; what it finds follows every letter.</summary>
    /// <param name="path">The page.</param>
    /// <param name="fields">What was asked for.</param>
    /// <param name="hasDays">True to ask for days too.</param>
    public static XElement Write(string path, IQueryCollection fields, bool hasDays) => new(
        "form", Html.Class("query"), new XAttribute("role", "search"), new XAttribute("action", path),
        new XAttribute("data-follow", "found"),
        EntryParts.Field(Voice.Say("web.query.text"),
            EntryParts.Input("search", "text", fields["text"], new XAttribute("autocomplete", "off"))),
        EntryParts.Field(Voice.Say("web.query.thickness"),
            EntryParts.Input("text", "thickness", fields["thickness"], new XAttribute("inputmode", "decimal"))),
        EntryParts.Field(Voice.Say("web.query.process"), EntryParts.Select("process", fields["process"],
            Processes.Select(process => (process, Voice.Say("web.query.of-process", ("process", process.Length == 0 ? "any" : process)))))),
        hasDays ? EntryParts.Field(Voice.Say("web.query.from"), EntryParts.Input("date", "from", fields["from"])) : null,
        hasDays ? EntryParts.Field(Voice.Say("web.query.to"), EntryParts.Input("date", "to", fields["to"])) : null,
        new XElement("noscript", new XElement("button", Voice.Say("web.query.find"))));

    /// <summary>The same query in an address, with more after it.</summary>
    public static string Address(string path, IQueryCollection fields, params IEnumerable<(string Name, string Value)> more)
    {
        IEnumerable<(string Name, string Value)> given =
            Fields.Select(name => (name, fields[name].ToString())).Where(field => field.Item2.Length > 0);
        return $"{path}?{string.Join('&', given.Concat(more).Select(field => $"{field.Name}={Uri.EscapeDataString(field.Value)}"))}";
    }

    private static DateTimeOffset? Day(string? text, int later) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
            && day < DateOnly.MaxValue
            ? new DateTimeOffset(day.AddDays(later), TimeOnly.MinValue, TimeSpan.Zero)
            : null;
}
