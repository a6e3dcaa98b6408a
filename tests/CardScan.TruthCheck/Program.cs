using CardScan.TruthCheck;

// Usage: dotnet run -c Release --project tests/CardScan.TruthCheck -- LIST
// LIST is a cases.json with photos, plans and truths beside it, as fixtures/README.md describes; or its folder.
// Exit 0: every target met; 1: one missed; 2: wrong command line.
string? list = args is [string given] ? Directory.Exists(given) ? Path.Combine(given, "cases.json") : given : null;
if (!File.Exists(list))
{
    Console.Error.WriteLine(
        "Give one list of cases, or a folder that holds cases.json: "
        + "dotnet run -c Release --project tests/CardScan.TruthCheck -- fixtures/photos");
    return 2;
}

TruthFolder folder = TruthFolder.Load(list);
List<CaseResult> results = [];
foreach (CaseGroup group in folder.Groups)
{
    Console.Error.WriteLine(group.Name);
    results.Add(CaseCheck.Run(group));
}

Console.Write(ResultTable.Render(results));
return results.Any(result => result.Misses.Count > 0) ? 1 : 0;
