using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan archive note</c>, <c>tag</c>, <c>close</c>: what makers say of cards, readings and batches.</summary>
internal static class WordCommands
{
    public static Command Note(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Argument<string[]> text = new("text")
        {
            HelpName = OptionText.Placeholder("text"),
            Description = Voice.Say("option.note"),
            Arity = ArgumentArity.OneOrMore
        };
        ExplainedCommand command = new("archive-note", "cardscan archive note 17 \"lens cleaned before this one\"") { name, text };
        return Create(terminal, surroundings, command, (place, parsed) =>
        {
            Outcome<NoteEntry> note = place.AddNote(parsed.GetValue(name)!, string.Join(' ', parsed.GetValue(text)!));
            return note.IsRefused
                ? note.Refusal!
                : new Told(Voice.Say("terminal.noted", ("name", note.Value.On)), ArchiveJson.Of(note.Value));
        });
    }

    public static Command Tag(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Argument<string[]> words = new("tag")
        {
            HelpName = OptionText.Placeholder("word"),
            Description = Voice.Say("option.tags"),
            Arity = ArgumentArity.OneOrMore
        };
        Option<bool> off = new("--off") { Description = Voice.Say("option.off") };
        ExplainedCommand command = new("archive-tag", "cardscan archive tag 17 kitchen keep") { name, words, off };
        return Create(terminal, surroundings, command, (place, parsed) =>
        {
            bool isOff = parsed.GetValue(off);
            Outcome<TaggedSubject> tagged = place.Tag(parsed.GetValue(name)!, parsed.GetValue(words)!.ToValueList(), isOff);
            return tagged.IsRefused
                ? tagged.Refusal!
                : new Told(
                    Voice.Say("terminal.tagged",
                        ("name", tagged.Value.Name), ("tags", string.Join(' ', tagged.Value.Tags)), ("off", Is(isOff))),
                    new() { ["on"] = tagged.Value.Name, [isOff ? "removedTags" : "addedTags"] = JsonText.List(tagged.Value.Tags) });
        });
    }

    public static Command Close(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Option<bool> again = new("--again") { Description = Voice.Say("option.again") };
        ExplainedCommand command = new("archive-close", "cardscan archive close 17") { name, again };
        return Create(terminal, surroundings, command, (place, parsed) =>
        {
            Outcome<CardEntry> card = place.Close(parsed.GetValue(name)!, parsed.GetValue(again));
            return card.IsRefused
                ? card.Refusal!
                : new Told(
                    Voice.Say("terminal.closed", ("name", card.Value.Name), ("number", card.Value.Number),
                        ("material", card.Value.Material), ("open", Is(card.Value.ClosedUtc is null))),
                    ArchiveJson.Of(card.Value));
        });
    }

    /// <summary>Something of the archive that a person names.</summary>
    public static Argument<string> Name() =>
        new("name") { HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.name.subject") };

    private static ExplainedCommand Create(
        Terminal terminal, HostEnvironment surroundings, ExplainedCommand command, Func<ArchivePlace, ParseResult, Outcome<Told>> work)
    {
        ArchiveInput input = new(surroundings);
        Option<bool> json = OptionText.Json();
        command.Options.Add(json);
        input.AddTo(command);
        command.SetAction(parsed =>
            terminal.Tell(work(input.Place(parsed), parsed), parsed.GetValue(json), told => told.Line, told => told.Json));
        return command;
    }

    /// <summary>What came of it, for a person and for a program.</summary>
    private sealed record Told(string Line, JsonObject Json);
}
