using System.CommandLine;
using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary><c>cardscan archive note</c>, <c>tag</c>, <c>close</c>: what makers say of cards, readings and batches.</summary>
internal static class WordCommands
{
    public static Command Note(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Argument<string[]> text = new("text") { Description = "The note", Arity = ArgumentArity.OneOrMore };
        return Create(terminal, surroundings, new("note", "Write a note on a card, a reading or a batch", """
            Example:
              cardscan archive note 17 "lens cleaned before this one"
            """) { name, text }, name, (archive, subject, parsed) =>
        {
            Outcome<NoteEntry> note = archive.AddNote(subject, string.Join(' ', parsed.GetValue(text)!));
            return note.IsRefused ? note.Refusal! : $"Noted on {note.Value.On}.";
        });
    }

    public static Command Tag(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Argument<string[]> words = new("tag") { Description = "Tags, one word each", Arity = ArgumentArity.OneOrMore };
        Option<bool> off = new("--off") { Description = "Take the tags off" };
        return Create(terminal, surroundings, new("tag", "Put tags on a card, a reading or a batch", """
            Example:
              cardscan archive tag 17 kitchen keep
            """) { name, words, off }, name, (archive, subject, parsed) =>
        {
            Outcome<ValueList<string>> tags = archive.Tag(subject, parsed.GetValue(words)!.ToValueList(), parsed.GetValue(off));
            return tags.IsRefused ? tags.Refusal! : $"{subject.Name}: {string.Join(' ', tags.Value)}{(parsed.GetValue(off) ? " taken off" : "")}";
        });
    }

    public static Command Close(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Option<bool> again = new("--again") { Description = "Open it again" };
        return Create(terminal, surroundings, new("close", "Close a card that will not be photographed any more", """
            Photos with its number do not find its plan any more, and the number may be given again. Nothing is removed.

            Example:
              cardscan archive close 17
            """) { name, again }, name, (archive, subject, parsed) =>
        {
            if (subject.CardId is not { } id) return Refusal.OfInput("archive-no-card", $"\"{subject.Name}\" is no card", "name a card: c5, or its number");
            Outcome<CardEntry> card = archive.Close(id, parsed.GetValue(again));
            return card.IsRefused ? card.Refusal! : $"{card.Value.Name} (card {card.Value.Number}, {card.Value.Material}) is {(card.Value.ClosedUtc is null ? "open" : "closed")}.";
        });
    }

    private static Argument<string> Name() => new("name") { Description = "A reading (r12), a card (c5 or its number), or a batch" };

    private static ExplainedCommand Create(
        Terminal terminal, HostEnvironment surroundings, ExplainedCommand command, Argument<string> name, Func<CardArchive, ArchiveSubject, ParseResult, Outcome<string>> work)
    {
        ArchiveInput input = new(surroundings);
        input.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<string> line = input.Place(parsed).Use(archive =>
            {
                Outcome<ArchiveSubject> subject = archive.Resolve(parsed.GetValue(name)!);
                return subject.IsRefused ? subject.Refusal! : work(archive, subject.Value, parsed);
            });
            if (line.IsRefused) return terminal.Refuse(line.Refusal!);
            terminal.ShowLine(line.Value);
            return ExitCode.Done;
        });
        return command;
    }
}
