using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Where a command writes: results to one stream, progress and complaints to the other.</summary>
internal sealed partial class Terminal
{
    /// <summary>Stands for a space at which no line may end; the console would end one at a no-break space too.</summary>
    public const char Bond = '\uE000';

    private const int Indent = 2;

    private readonly IAnsiConsole _results;
    private readonly IAnsiConsole _notes;
    private readonly bool _isErrorTerminal;
    private readonly HashSet<string> _warned = [];

    /// <param name="output">Results.</param>
    /// <param name="errors">Progress, warnings, complaints.</param>
    /// <param name="isOutputTerminal">False when results go to a file or a pipe.</param>
    /// <param name="isErrorTerminal">False when complaints go to a file or a pipe.</param>
    /// <param name="columns">Columns of the screen; null where the screen is asked.</param>
    public Terminal(TextWriter output, TextWriter errors, bool isOutputTerminal, bool isErrorTerminal, int? columns = null)
    {
        (Output, Errors, IsOutputTerminal, _isErrorTerminal) = (output, errors, isOutputTerminal, isErrorTerminal);
        _results = ConsoleOn(output, isOutputTerminal);
        _notes = ConsoleOn(errors, isErrorTerminal);
        if (columns is { } known) _results.Profile.Width = known;
    }

    /// <summary>Results.</summary>
    public TextWriter Output { get; }

    /// <summary>Progress, warnings, complaints.</summary>
    public TextWriter Errors { get; }

    /// <summary>True when a person reads the results as they come.</summary>
    public bool IsOutputTerminal { get; }

    /// <summary>True when that person sees the complaints between them.</summary>
    public bool IsOneScreen => IsOutputTerminal && _isErrorTerminal;

    /// <summary>The process's own streams.</summary>
    public static Terminal OfProcess()
    {
        Console.OutputEncoding = Encoding.UTF8;
        return new(Console.Out, Console.Error, !Console.IsOutputRedirected, !Console.IsErrorRedirected);
    }

    /// <summary>Prints a result. Text from files must be escaped: see <see cref="Markup.Escape(string)"/>.</summary>
    public void Show(string markup) => Write(_results, markup, IsOutputTerminal);

    /// <summary>Prints a plain text as a result.</summary>
    public void ShowText(string text) => Show(Markup.Escape(text));

    /// <summary>Prints a table or another drawn thing.</summary>
    public void Show(Spectre.Console.Rendering.IRenderable drawn) => _results.Write(drawn);

    /// <summary>Prints a line that a program reads whole and a person sees wrapped between words.</summary>
    public void ShowWrapped(string text)
    {
        if (IsOutputTerminal) ShowText(text);
        else ShowLine(text);
    }

    /// <summary>Prints pieces of text under a head, some spaces in; a line ends between pieces wherever it can.</summary>
    public void ShowBlock(string head, IEnumerable<string> pieces)
    {
        int room = Width - Indent - 2;
        IEnumerable<string> whole =
            pieces.Select(piece => piece.Length <= room ? piece.Replace(' ', Bond) : Bound(piece, isTerminal: true));
        Show($"[bold]{Markup.Escape(head)}[/]");
        Show(new string(' ', Indent) + Markup.Escape(string.Join($"{Bond}· ", whole)));
    }

    /// <summary>Prints text as it is, without wrapping.</summary>
    public void ShowRaw(string text) => Output.Write(text);

    /// <summary>Prints a drawing of light blocks, light on dark whatever the terminal's colours are; plain where it has none.</summary>
    public void ShowLightOnDark(IEnumerable<string> lines)
    {
        Style style = new(new Color(255, 255, 255), new Color(0, 0, 0));
        foreach (string line in lines) _results.WriteLine(line, style);
    }

    /// <summary>Prints a line as it is, without wrapping: a path broken in two cannot be copied.</summary>
    public void ShowLine(string text) => Output.WriteLine(text);

    /// <summary>Columns of the screen that the results go to; more than any line has where they go elsewhere.</summary>
    public int Width => _results.Profile.Width;

    /// <summary>Prints a warning, once however often it is met.</summary>
    /// <param name="text">The warning.</param>
    /// <param name="code">Its code in docs/messages.md; null where it has none.</param>
    public void Warn(string text, string? code = null)
    {
        if (!_warned.Add(text)) return;
        Write(_notes, Warning(text, code), _isErrorTerminal);
    }

    /// <summary>Prints a warning with its code.</summary>
    /// <param name="remark">The warning.</param>
    /// <param name="where">What it is about; null where it says so itself.</param>
    public void Warn(Remark remark, string? where = null) =>
        Warn(where is null ? remark.Message : $"{where}: {remark.Message}", remark.Code);

    /// <summary>Prints, as a warning, a refusal that does not end the command.</summary>
    public void Warn(Refusal refusal) => Warn(refusal.ToString(), refusal.Code);

    /// <summary>Prints advice among the results.</summary>
    public void Advise(Advice advice) => Show(CodeMeanings.BearingOf(advice.Code) == AdviceBearing.Remark
        ? $"{Markup.Escape(advice.Message)}{CodeAfter(advice.Code)}"
        : Warning(advice.Message, advice.Code));

    private static string Warning(string text, string? code) =>
        $"[yellow]{Voice.Say("terminal.warning")}[/] {Markup.Escape(text)}{CodeAfter(code)}";

    /// <summary>A code at the end of its message, by which docs/messages.md finds it.</summary>
    public static string CodeAfter(string? code) =>
        code is null ? "" : $" [dim]{Markup.Escape(Voice.Say("terminal.code", ("code", code)))}[/]";

    /// <summary>Prints a remark beside the results.</summary>
    public void Note(string text) => Errors.WriteLine(text);

    /// <summary>Prints what went wrong, on one line.</summary>
    /// <param name="text">What went wrong.</param>
    /// <param name="code">Its code in docs/messages.md; null where it has none.</param>
    public void Complain(string text, string? code = null) =>
        Write(_notes, Markup.Escape($"cardscan: {text.ReplaceLineEndings(" ")}") + CodeAfter(code), _isErrorTerminal);

    /// <summary>Prints what came of a command, as a line, as JSON, or as a refusal; its exit code.</summary>
    public int Tell<T>(Outcome<T> outcome, bool isJson, Func<T, string> line, Func<T, JsonObject> json)
    {
        if (!isJson) return Tell(outcome, line);
        if (outcome.IsRefused) return Refuse(outcome.Refusal!);
        ShowRaw(JsonText.Of(json(outcome.Value)));
        return ExitCode.Done;
    }

    /// <summary>Prints what came of a command, as a line or as a refusal; its exit code.</summary>
    public int Tell<T>(Outcome<T> outcome, Func<T, string> line)
    {
        if (outcome.IsRefused) return Refuse(outcome.Refusal!);
        ShowLine(line(outcome.Value));
        return ExitCode.Done;
    }

    /// <summary>Prints a refusal and gives its exit code.</summary>
    public int Refuse(Refusal refusal)
    {
        Complain(refusal.ToString(), refusal.Code);
        return refusal.Kind switch
        {
            RefusalKind.UnmeasurablePhoto => ExitCode.PhotoRefused,
            RefusalKind.WrongInput => ExitCode.WrongInput,
            _ => ExitCode.Failed,
        };
    }

    /// <summary>
    /// Says that the archive kept nothing; the exit code. One that is read-only is so for a reason: what was asked for is done.
    /// </summary>
    public int TellNotKept(Refusal refusal)
    {
        if (refusal.Code != Codes.ArchiveReadOnly) return Refuse(refusal);
        Warn(refusal.ToString());
        return ExitCode.Done;
    }

    /// <summary>Runs something that takes a while, with a moving line for a person and silence for a pipe.</summary>
    public T Working<T>(string start, Func<T> work) =>
        _isErrorTerminal ? _notes.Status().Start(Markup.Escape(start), _ => work()) : work();

    /// <summary>Runs something of many parts, with a bar for a person and silence for a pipe.</summary>
    public T Counting<T>(Func<IProgress<ReadProgress>, T> work)
    {
        if (!_isErrorTerminal) return work(new Quiet());
        return _notes.Progress().AutoClear(true)
            .Columns(new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn(), new TaskDescriptionColumn())
            .Start(bar => work(new OnBar(bar.AddTask(Voice.Say("terminal.reading")))));
    }

    private static IAnsiConsole ConsoleOn(TextWriter writer, bool isTerminal)
    {
        // Colours only for a person's eyes, and not where NO_COLOR asks for none (Spectre heeds it when it detects).
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(isTerminal ? new Unbinding(writer) : writer),
            Ansi = isTerminal ? AnsiSupport.Detect : AnsiSupport.No,
            ColorSystem = isTerminal ? ColorSystemSupport.Detect : ColorSystemSupport.NoColors,
            Interactive = isTerminal ? InteractionSupport.Detect : InteractionSupport.No,
        });
        // A pipe has no width; lines are for programs then, and stay whole.
        if (!isTerminal) console.Profile.Width = 10_000;
        return console;
    }

    /// <summary>
    /// Writes a line. What does not fit goes on below, some spaces in: as far as the line itself is, or a little where it begins
    /// at the edge.
    /// </summary>
    private static void Write(IAnsiConsole console, string markup, bool isTerminal)
    {
        if (!isTerminal)
        {
            console.MarkupLine(markup);
            return;
        }

        string text = markup.TrimStart(' ');
        int first = markup.Length - text.Length;
        console.Write(new HangingText(new Markup(Bound(text, isTerminal)), first, Math.Max(first, Indent)));
    }

    /// <summary>A number and its unit, the two ends of a range, and an option and its value stay on one line.</summary>
    public static string Bound(string text, bool isTerminal) => isTerminal ? Inseparable().Replace(text, $"{Bond}") : text;

    [GeneratedRegex(
        @"(?<=[0-9]) (?=[%×±]|(mm|cm|m?s|min|h|k?J|W|nm|px|[kMG]?B|in|pass|passes|cells?)\b)|(?<=[×±]|\[[0-9.]+,) (?=[0-9])"
        + @"|(?<=[0-9%]) (?=to [0-9−-])|(?<=[0-9%] to) (?=[0-9−-])|(?<=[0-9] %) (?=interval)|(?<=\b(min|h)) (?=[0-9]+ (min|s)\b)"
        + @"|(?<=[►●◐○?–]) (?=[a-z])"
        + @"|(?<=(^|\s|\()--?[a-z][a-z-]*) (?=[A-Z0-9<""])|(?<=\bdefault) (?=[0-9−])",
        RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Inseparable();

    /// <summary>Writes bonds as spaces.</summary>
    internal sealed class Unbinding(TextWriter writer) : TextWriter
    {
        public override Encoding Encoding => writer.Encoding;

        public override void Write(char value) => writer.Write(value == Bond ? ' ' : value);

        public override void Write(string? value) => writer.Write(value?.Replace(Bond, ' '));

        public override void Flush() => writer.Flush();
    }

    private sealed class Quiet : IProgress<ReadProgress>
    {
        public void Report(ReadProgress value)
        {
        }
    }

    private sealed class OnBar(ProgressTask task) : IProgress<ReadProgress>
    {
        public void Report(ReadProgress value)
        {
            task.MaxValue = value.Total;
            task.Value = value.Done;
            task.Description = Markup.Escape(Step(value));
        }
    }

    private static string Step(ReadProgress progress) => progress.Step switch
    {
        ReadStep.Copying => Voice.Say("terminal.copying-photo", ("photo", progress.Name!)),
        ReadStep.Waiting => progress.Name!,
        ReadStep.Measuring => Voice.Say("terminal.reading-photo", ("photo", progress.Name!)),
        ReadStep.Scoring => Voice.Say("terminal.scoring"),
        _ => Voice.Say("terminal.reporting"),
    };
}
