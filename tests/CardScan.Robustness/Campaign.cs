using System.Security.Cryptography;
using System.Text;

namespace CardScan.Robustness;

/// <summary>
/// Makes, reads and judges photos, twice as many at a time as there are processors (some wait for files): memory does
/// not grow with their number.
/// </summary>
internal static class Campaign
{
    /// <summary>Runs photos; results come in the order of their numbers.</summary>
    /// <param name="arguments">Which.</param>
    /// <param name="progress">Told how many are done.</param>
    public static Verdict[] Run(RunArguments arguments, Action<int> progress)
    {
        if (arguments.Keep is { } folder) Directory.CreateDirectory(folder);
        int[] numbers = arguments.Numbers;
        Verdict[] verdicts = new Verdict[numbers.Length];
        int done = 0;
        Parallel.For(0, numbers.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 * Environment.ProcessorCount }, i =>
        {
            Recipe recipe = Recipe.Of(arguments.Seed, numbers[i]);
            verdicts[i] = PhotoJudge.Judge(recipe, PhotoOf(recipe, arguments.Keep));
            progress(Interlocked.Increment(ref done));
        });
        return verdicts;
    }

    private static byte[] PhotoOf(Recipe recipe, string? keep)
    {
        if (keep is null) return PhotoMaker.Make(recipe);
        string digest = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(recipe.ToString())))[..8];
        string file = Path.Combine(keep, $"photo-{recipe.Seed}-{recipe.Number:D5}-{digest}.jpg");
        if (File.Exists(file)) return File.ReadAllBytes(file);
        byte[] photo = PhotoMaker.Make(recipe);
        File.WriteAllBytes(file, photo);
        File.WriteAllText(Path.ChangeExtension(file, ".plan.json"), Model.CardJson.Write(recipe.Truth.Plan.Plan));
        return photo;
    }
}
