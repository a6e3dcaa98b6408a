using CardScan.TruthCheck;

// Usage: dotnet run -c Release --project tests/CardScan.TruthCheck -- FOLDER
// FOLDER holds cases.json with photos, plans and truths as fixtures/README.md describes.
// Exit 0: every target met; 1: one missed; 2: wrong command line.
if (args.Length != 1 || !File.Exists(Path.Combine(args[0], "cases.json")))
{
    Console.Error.WriteLine(
        "Give one folder that holds cases.json: dotnet run -c Release --project tests/CardScan.TruthCheck -- fixtures/photos");
    return 2;
}

TruthFolder folder = TruthFolder.Load(args[0]);
List<CaseResult> results = [];
foreach (CaseGroup group in folder.Groups)
{
    Console.Error.WriteLine(group.Name);
    results.Add(CaseCheck.Run(group));
}

Console.Write(ResultTable.Render(results));
return results.Any(result => result.Misses.Count > 0) ? 1 : 0;
