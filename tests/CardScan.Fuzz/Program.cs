using System.Globalization;
using CardScan.Fuzz;

// dotnet run -c Release --project tests/CardScan.Fuzz -- minutes N seed S [TARGET…]     as long as one likes
// dotnet run -c Release --project tests/CardScan.Fuzz -- child TARGET SEED FROM COUNT   one batch, in this process
// dotnet run -c Release --project tests/CardScan.Fuzz -- damage COPIES seed S           damaged JPEG data: what the settings become
// Every input follows from target, seed and number, so a finding can be made again; its bytes are kept too.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
return args switch
{
    ["child", string target, string seed, string from, string count] =>
        Batch.Run(target, Whole(seed), Whole(from), Whole(count), Console.Out),
    ["minutes", string minutes, "seed", string seed, .. string[] targets] =>
        Campaign.Run(TimeSpan.FromMinutes(double.Parse(minutes, CultureInfo.InvariantCulture)), Whole(seed),
            targets.Length == 0 ? Targets.Names : targets, Console.Out),
    ["damage", string copies, "seed", string seed] => Damage(Whole(copies), Whole(seed)),
    _ => Usage(),
};

static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

static int Damage(int copies, int seed)
{
    DamageStudy study = DamageStudy.Run(copies, seed);
    Console.WriteLine($"{copies} damaged copies, seed {seed}: {study}");
    return study.Wrong == 0 ? 0 : Batch.Found;
}

static int Usage()
{
    Console.Error.WriteLine(
        "minutes N seed S [TARGET…]  or  child TARGET SEED FROM COUNT  or  damage COPIES seed S;  "
            + $"targets: {string.Join(", ", Targets.Names)}");
    return 2;
}
