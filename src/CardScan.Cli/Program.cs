using CardScan.Cli;

return Application.Run(args, Terminal.OfProcess(), HostEnvironment.OfProcess());
