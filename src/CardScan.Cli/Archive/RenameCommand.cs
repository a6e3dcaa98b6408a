using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan archive rename</c>: names that were typed in several ways, brought together.</summary>
internal static class RenameCommand
{
    private static readonly string[] Columns = ["kind", "old", "kept-under", "cards"];

    private static readonly Dictionary<string, NamedKind> Kinds =
        Enum.GetValues<NamedKind>().ToDictionary(kind => EnumName.Of(kind), StringComparer.Ordinal);

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string?> kind = new("kind")
        {
            HelpName = string.Join('|', Kinds.Keys), Description = Voice.Say("option.rename.kind"), Arity = ArgumentArity.ZeroOrOne,
        };
        kind.AcceptOnlyFromAmong([.. Kinds.Keys]);
        Argument<string?> old = Name("old"), newName = Name("new");
        Option<bool> undo = new("--undo") { Description = Voice.Say("option.undo") };
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new(
            "archive-rename", "cardscan archive rename material \"birch plywood\" \"birch ply\"", "cardscan archive rename")
        {
            kind, old, newName, undo, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed);
            (string? of, string? from, string? to) = (parsed.GetValue(kind), parsed.GetValue(old), parsed.GetValue(newName));
            bool isUndo = parsed.GetValue(undo);
            if (of is null && !isUndo) return List(terminal, place.KeptNames(), parsed.GetValue(json));
            if (of is null || from is null || isUndo == to is not null) return terminal.Refuse(Refusal.OfInput(Codes.RenameWhat));
            Outcome<KeptName> kept = isUndo ? place.TakeNameBack(Kinds[of], from) : place.Rename(Kinds[of], from, to!);
            return terminal.Tell(kept, parsed.GetValue(json), name => Line(name, isUndo), Json);
        });
        return command;
    }

    private static string Line(KeptName name, bool isBack) => Voice.Say(
        isBack ? "terminal.name-back" : "terminal.renamed", Figures.Known(
            ("old", name.Old), ("new", isBack ? null : name.New), ("cards", name.Cards),
            ("command", isBack ? null : RenameLine.Back(name.Kind, name.Old))));

    private static int List(Terminal terminal, Outcome<ValueList<KeptName>> names, bool isJson)
    {
        if (names.IsRefused) return terminal.Refuse(names.Refusal!);
        if (isJson) terminal.ShowRaw(JsonText.Of(names.Value.Select(Json)));
        else if (names.Value.Count > 0)
            TablePrinter.Print(terminal, Columns, [.. names.Value.Select(name =>
                new[] { EnumName.Of(name.Kind), name.Old, name.New, $"{name.Cards}" })]);
        if (names.Value.Count == 0) terminal.Note(Voice.Say("terminal.renamed-none"));
        return ExitCode.Done;
    }

    private static JsonObject Json(KeptName name) => new()
    {
        ["kind"] = EnumName.Of(name.Kind), ["old"] = name.Old, ["new"] = name.New, ["cards"] = name.Cards,
    };

    private static Argument<string?> Name(string key) => new(key)
    {
        HelpName = OptionText.Placeholder("name"), Description = Voice.Say($"option.rename.{key}"), Arity = ArgumentArity.ZeroOrOne,
    };
}
