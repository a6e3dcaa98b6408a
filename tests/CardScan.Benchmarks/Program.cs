using BenchmarkDotNet.Running;
using CardScan.Benchmarks;

// dotnet run -c Release --project tests/CardScan.Benchmarks -- quick [PHOTO PLAN [N]]    one table, in a minute
// dotnet run -c Release --project tests/CardScan.Benchmarks -- --filter '*'              BenchmarkDotNet, one class a stage
// dotnet run -c Release --project tests/CardScan.Benchmarks -- score [N]                 time to score 3 x 3 to 20 x 20 cells
// dotnet run -c Release --project tests/CardScan.Benchmarks -- growth [N]                3 to 100 megapixels, 9 to 400 cells
// dotnet run -c Release --project tests/CardScan.Benchmarks -- leak N [PHOTO PLAN]       memory over N reads in one process
// dotnet run -c Release --project tests/CardScan.Benchmarks -- archive 100000            an archive filled and asked
// dotnet run -c Release --project tests/CardScan.Benchmarks -- archive-memory 1000 10000 memory and time by readings of an archive
// dotnet run -c Release --project tests/CardScan.Benchmarks -- page 1000 [N]             the page, its slider and a photo sent to it
// dotnet run -c Release --project tests/CardScan.Benchmarks -- page-row N [PHOTO PLAN]   memory over N photos sent to the page
// dotnet run -c Release --project tests/CardScan.Benchmarks -- many FOLDER [N]           a folder of photos with its plans
// dotnet run -c Release --project tests/CardScan.Benchmarks -- workshop ADDRESS fill N   a workshop's archive; ask, plans, load MINUTES
//
// BenchmarkDotNet takes photo and plan from the environment: CARDSCAN_PHOTO and CARDSCAN_PLAN, full paths.
// Where none is given, a 12-megapixel photo is rendered.
if (args is ["score", ..])
{
    Console.Write(ScoreGrowth.Run(rounds: args.Length >= 2 ? int.Parse(args[1]) : 15));
    return 0;
}

if (args is ["growth", ..])
{
    PhotoGrowth.Run(rounds: args.Length >= 2 ? int.Parse(args[1]) : 5);
    return 0;
}

if (args is [PhotoGrowth.Child, string childPhoto, string childPlan, string childRounds])
{
    PhotoGrowth.RunChild(childPhoto, childPlan, int.Parse(childRounds));
    return 0;
}

if (args is ["leak", string reads, .. string[] files])
{
    PhotoGrowth.RunLeak(files is [string leakPhoto, string leakPlan] ? BenchmarkPhoto.Load(leakPhoto, leakPlan) : BenchmarkPhoto.Given(),
        int.Parse(reads));
    return 0;
}

if (args is ["archive", .. string[] counts])
{
    ArchiveRun.Run(counts.Length > 0 ? int.Parse(counts[0]) : 10_000);
    return 0;
}

if (args is ["archive-memory", .. string[] readings])
{
    ArchiveMemory.Run([.. readings.Select(int.Parse)]);
    return 0;
}

if (args is [ArchiveMemory.Child, string step, string archive])
{
    ArchiveMemory.RunChild(step, archive);
    return 0;
}

if (args is ["workshop", string address, "fill", string many])
{
    WorkshopFill.Run(address, int.Parse(many));
    return 0;
}

if (args is ["workshop", string asked, "ask", .. string[] part])
{
    WorkshopRun.Ask(asked, string.Join(' ', part));
    return 0;
}

if (args is ["workshop", string used, "load", string minutes])
{
    WorkshopLoad.Run(used, double.Parse(minutes, System.Globalization.CultureInfo.InvariantCulture));
    return 0;
}

if (args is ["workshop", string explained, "plans"])
{
    WorkshopRun.Plans(explained);
    return 0;
}

if (args is ["page", .. string[] sizes])
{
    await PageRun.Run(sizes.Length > 0 ? int.Parse(sizes[0]) : 1000, sizes.Length > 1 ? int.Parse(sizes[1]) : 100);
    return 0;
}

if (args is ["page-row", string row, .. string[] given])
{
    await PageRun.RunInARow(int.Parse(row), given is [string rowPhoto, string rowPlan] ? BenchmarkPhoto.Load(rowPhoto, rowPlan)
        : BenchmarkPhoto.Given());
    return 0;
}

if (args is ["many", string folder, .. string[] times])
{
    Console.Write(ManyRun.Run(folder, rounds: times.Length > 0 ? int.Parse(times[0]) : 7));
    return 0;
}

if (args is not ["quick", ..])
{
    BenchmarkSwitcher.FromAssembly(typeof(StageBenchmark).Assembly).Run(args);
    return 0;
}

BenchmarkPhoto photo = args.Length >= 3 ? BenchmarkPhoto.Load(args[1], args[2]) : BenchmarkPhoto.Given();
Console.Write(QuickRun.Run(photo, rounds: args.Length >= 4 ? int.Parse(args[3]) : 15));
return 0;
