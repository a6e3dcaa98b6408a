using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan queue</c>: photos that any computer of a workshop reads, and how far that is.</summary>
internal static class QueueCommand
{
    private static readonly TimeSpan s_look = TimeSpan.FromSeconds(1);

    private static readonly string[] Columns = ["job", "put", "by", "photos", "looked", "cards", "not-read", "workers"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string?> job = new("job")
        {
            HelpName = OptionText.Placeholder("job"), Description = Voice.Say("option.queue-job"), Arity = ArgumentArity.ZeroOrOne,
        };
        Option<bool> wait = new("--wait") { Description = Voice.Say("option.queue-wait") };
        Option<bool> drop = new("--drop") { Description = Voice.Say("option.queue-drop") };
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("queue", "cardscan queue", "cardscan queue q3 --wait") { job, wait, drop, json };
        archive.AddTo(command);
        command.Validators.Add(result =>
        {
            foreach (Option<bool> option in (Option<bool>[])[wait, drop])
                if (result.GetValue(option) && result.GetResult(job) is null or { Tokens.Count: 0 })
                    result.AddError(Voice.Say("option.queue-no-job", ("option", option.Name)));
            if (result.GetValue(wait) && result.GetValue(drop))
                result.AddError(Voice.Say("option.both", ("first", wait.Name), ("second", drop.Name)));
        });
        command.SetAction((parsed, stop) => Task.Run(() => Run(parsed, stop), CancellationToken.None));
        return command;

        int Run(ParseResult parsed, CancellationToken stop)
        {
            ArchivePlace place = archive.Place(parsed);
            if (parsed.GetValue(job) is not { } name) return List(terminal, place.QueueJobs(), parsed.GetValue(json));
            if (parsed.GetValue(drop))
            {
                return terminal.Tell(place.DropQueueJob(name), parsed.GetValue(json),
                    dropped => Voice.Say("terminal.queue-dropped", ("job", dropped.Name)), Json);
            }

            Outcome<QueueJob> found = parsed.GetValue(wait) ? Awaited(terminal, place, name, stop) : place.QueueJob(name);
            return Show(terminal, found, parsed.GetValue(json));
        }
    }

    /// <summary>Puts photos into the queue and says so.</summary>
    public static int Put(Terminal terminal, ReadRequest request, string person, bool isJson) => terminal.Tell(
        terminal.Counting(progress => QueuePhotos.Run(request, person, progress)), isJson,
        job => Voice.Say("terminal.queued", ("photos", job.Photos), ("job", job.Name)), Json);

    private static Outcome<QueueJob> Awaited(Terminal terminal, ArchivePlace place, string name, CancellationToken stop) =>
        terminal.Counting(progress =>
        {
            while (true)
            {
                Outcome<QueueJob> job = place.QueueJob(name);
                if (job.IsRefused || job.Value.Done is not null || stop.IsCancellationRequested) return job;
                // Looking at a photo and reading a card count alike; how many cards there are is known when all photos were looked at.
                progress.Report(new(ReadStep.Waiting, job.Value.Looked + job.Value.CardsDone,
                    job.Value.Photos + Math.Max(job.Value.Cards, 1), Progress(job.Value)));
                stop.WaitHandle.WaitOne(s_look);
            }
        });

    private static int List(Terminal terminal, Outcome<ValueList<QueueJob>> jobs, bool isJson)
    {
        if (jobs.IsRefused) return terminal.Refuse(jobs.Refusal!);
        if (isJson) terminal.ShowRaw(JsonText.Of(jobs.Value.Select(Json)));
        else if (jobs.Value.Count > 0) TablePrinter.Print(terminal, Columns, [.. jobs.Value.Select(Row)]);
        terminal.Note(Voice.Say("terminal.queue-jobs",
            ("open", jobs.Value.Count(job => job.Done is null)), ("done", jobs.Value.Count(job => job.Done is not null))));
        return ExitCode.Done;
    }

    private static int Show(Terminal terminal, Outcome<QueueJob> found, bool isJson)
    {
        if (found.IsRefused) return terminal.Refuse(found.Refusal!);
        QueueJob job = found.Value;
        int code = job.Refusals.Count > 0 ? ExitCode.PhotoRefused : ExitCode.Done;
        if (isJson)
        {
            terminal.ShowRaw(JsonText.Of(Json(job)));
            return code;
        }

        terminal.ShowWrapped(Voice.Say("terminal.queue-job",
            ("job", job.Name), ("photos", job.Photos), ("by", job.PutBy), ("put", ArchiveMessages.Time(job.Put))));
        terminal.ShowWrapped(Progress(job));
        if (job.Workers.Count > 0) terminal.ShowWrapped(Voice.Say("terminal.queue-workers", ("workers", Figures.List(job.Workers))));
        string readings = string.Join(' ', job.Readings);
        if (readings.Length > 0) terminal.ShowWrapped(Voice.Say("terminal.queue-readings", ("readings", readings)));
        foreach (QueueRefusal refusal in job.Refusals) terminal.Complain($"{refusal.Photos}: {refusal.Message}", refusal.Code);
        return code;
    }

    private static string Progress(QueueJob job) => Voice.Say("terminal.queue-progress",
        ("state", job.Done is not null ? "done" : job.Looked < job.Photos ? "looking" : "reading"),
        ("photos", job.Photos), ("looked", job.Looked), ("cards", job.Cards), ("read", job.CardsDone), ("refused", job.Refusals.Count));

    private static string[] Row(QueueJob job) =>
    [
        job.Name, ArchiveMessages.Time(job.Put), job.PutBy, $"{job.Photos}", $"{job.Looked}", $"{job.CardsDone}/{job.Cards}",
        job.Refusals.Count == 0 ? "" : $"{job.Refusals.Count}", string.Join(' ', job.Workers),
    ];

    private static JsonObject Json(QueueJob job) => JsonText.Without(new()
    {
        ["job"] = job.Name,
        ["by"] = job.PutBy,
        ["put"] = ArchiveJson.Time(job.Put),
        ["done"] = ArchiveJson.Time(job.Done),
        ["photos"] = job.Photos,
        ["looked"] = job.Looked,
        ["cards"] = job.Cards,
        ["cardsDone"] = job.CardsDone,
        ["readings"] = JsonText.List(job.Readings),
        ["workers"] = JsonText.List(job.Workers),
        ["refused"] = new JsonArray([.. job.Refusals.Select(refusal => new JsonObject
        {
            ["photos"] = refusal.Photos, ["code"] = refusal.Code, ["message"] = refusal.Message,
        })]),
    });
}
