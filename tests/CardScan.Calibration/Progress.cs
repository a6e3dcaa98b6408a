using System.Diagnostics;

namespace CardScan.Calibration;

/// <summary>How far a study has come, on standard error.</summary>
internal sealed class Progress(int cases)
{
    /// <summary>Covers what was written before on the same line.</summary>
    private const int Width = 70;

    private readonly long _start = Stopwatch.GetTimestamp();
    private int _done;

    public void Begins(string name) => Console.Error.Write($"\r{++_done,4} of {cases}  {name,-Width}");

    public void Ends(int cards) =>
        Console.Error.WriteLine(
            $"\r{cases} cases of {cards} cards in {Stopwatch.GetElapsedTime(_start).TotalSeconds:0} s{new string(' ', Width)}");
}
