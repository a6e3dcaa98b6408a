using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan work</c>: reads what waits in the workshop's queue.</summary>
internal static class WorkCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> ends = new("--until-empty") { Description = Voice.Say("option.until-empty") };
        Option<double?> atOnce = NumberOption.Create("--at-once", NumberRange.Whole(1, 64));
        Option<double?> lease = NumberOption.Create("--lease", NumberRange.Whole(1, 3600));
        ExplainedCommand command = new("work", "cardscan work", "cardscan work --until-empty") { ends, atOnce, lease };
        archive.AddTo(command);
        command.SetAction((parsed, stop) => Task.Run(() => Run(parsed, stop), CancellationToken.None));
        return command;

        int Run(ParseResult parsed, CancellationToken stop)
        {
            WorkRequest request = new(archive.Place(parsed), surroundings.Person)
            {
                EndsWhenEmpty = parsed.GetValue(ends), AtOnce = (int?)parsed.GetValue(atOnce),
            };
            if (parsed.GetValue(lease) is { } seconds) request = request with { Lease = TimeSpan.FromSeconds(seconds) };
            if (!request.EndsWhenEmpty) terminal.Note(Voice.Say("terminal.work-waits"));
            int cards = 0, refused = 0;
            Refusal? trouble = QueueWorker.Run(request, Tell, stop);
            if (trouble is not null) return terminal.Refuse(trouble);
            terminal.Note(Voice.Say("terminal.worked", ("cards", cards), ("refused", refused)));
            return refused > 0 ? ExitCode.PhotoRefused : ExitCode.Done;

            void Tell(WorkDone done)
            {
                if (done.Reading is { } reading)
                {
                    cards++;
                    terminal.ShowLine(Voice.Say("terminal.work-read",
                        ("job", done.Job!), ("card", reading.Plan.Number), ("reading", done.Name!),
                        ("photos", List(reading.Photos.Select(photo => photo.File)))));
                }

                foreach (RefusedPhoto photo in done.Refused)
                {
                    if (done.Job is not null && photo.Refusal.Code != Codes.QueueTakenOver) refused++;
                    terminal.Warn(photo.Refusal.In(photo.Name));
                }
            }
        }
    }
}
