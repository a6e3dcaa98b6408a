using System.Text;
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
    private const char Bond = '\uE000';

    private readonly IAnsiConsole _results;
    private readonly IAnsiConsole _notes;
    private readonly bool _isErrorTerminal;

    /// <param name="output">Results.</param>
    /// <param name="errors">Progress, warnings, complaints.</param>
    /// <param name="isOutputTerminal">False when results go to a file or a pipe.</param>
    /// <param name="isErrorTerminal">False when complaints go to a file or a pipe.</param>
    public Terminal(TextWriter output, TextWriter errors, bool isOutputTerminal, bool isErrorTerminal)
    {
        (Output, Errors, IsOutputTerminal, _isErrorTerminal) = (output, errors, isOutputTerminal, isErrorTerminal);
        _results = ConsoleOn(output, isOutputTerminal);
        _notes = ConsoleOn(errors, isErrorTerminal);
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
    public void Show(string markup) => _results.MarkupLine(Bound(markup, IsOutputTerminal));

    /// <summary>Prints a plain text as a result.</summary>
    public void ShowText(string text) => Show(Markup.Escape(text));

    /// <summary>Prints a table or another drawn thing.</summary>
    public void Show(Spectre.Console.Rendering.IRenderable drawn) => _results.Write(drawn);

    /// <summary>Prints text as it is, without wrapping.</summary>
    public void ShowRaw(string text) => Output.Write(text);

    /// <summary>Prints a line as it is, without wrapping: a path broken in two cannot be copied.</summary>
    public void ShowLine(string text) => Output.WriteLine(text);

    /// <summary>Prints a warning.</summary>
    public void Warn(string text) =>
        _notes.MarkupLine($"[yellow]{Voice.Say("terminal.warning")}[/] {Markup.Escape(Bound(text, _isErrorTerminal))}");

    /// <summary>Prints a remark beside the results.</summary>
    public void Note(string text) => Errors.WriteLine(text);

    /// <summary>Prints what went wrong, on one line.</summary>
    public void Complain(string text) =>
        _notes.MarkupLine(Markup.Escape(Bound($"cardscan: {text.ReplaceLineEndings(" ")}", _isErrorTerminal)));

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
        Complain(refusal.ToString());
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

    /// <summary>A number and its unit stay on one line.</summary>
    private static string Bound(string text, bool isTerminal) => isTerminal ? NumberBeforeUnit().Replace(text, $"{Bond}") : text;

    [GeneratedRegex(@"(?<=[0-9]) (?=%|mm\b)", RegexOptions.None, 1000)]
    private static partial Regex NumberBeforeUnit();

    /// <summary>Writes bonds as spaces.</summary>
    private sealed class Unbinding(TextWriter writer) : TextWriter
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
        ReadStep.Measuring => Voice.Say("terminal.reading-photo", ("photo", progress.Name!)),
        ReadStep.Scoring => Voice.Say("terminal.scoring"),
        _ => Voice.Say("terminal.reporting"),
    };
}
