using CardScan.Cli;
using CardScan.Workflow;

// A damaged library ends the process where it is loaded, without a word.
if (InstalledFiles.Damage(AppContext.BaseDirectory) is { } damage) return Terminal.OfProcess().Refuse(damage);
return Application.Run(args, Terminal.OfProcess(), HostEnvironment.OfProcess());
