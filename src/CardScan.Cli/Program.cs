using CardScan.Cli;
using CardScan.Workflow;

// A damaged library ends the process where it is loaded, without a word; a missing one of the system with a word too few.
if ((InstalledFiles.Damage(AppContext.BaseDirectory) ?? SystemLibraries.Lack()) is { } fault) return Terminal.OfProcess().Refuse(fault);
return Application.Run(args, Terminal.OfProcess(), HostEnvironment.OfProcess());
