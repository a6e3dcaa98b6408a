using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>
/// The cards that one run reads side by side: each sees those before it, whichever is done first, so that the same
/// photos always give the same numbers.
/// </summary>
/// <remarks>
/// A card waits until those before it are measured; none waits for one after it. Of many cards the last ones are held:
/// the archive has the others by then.
/// </remarks>
/// <param name="count">How many cards there are.</param>
internal sealed class CardsOfRun(int count)
{
    /// <summary>Readings that are held: more than are worked on and wait to be kept at once.</summary>
    private static readonly int MostHeld = Math.Max(4 * Company.MostCards, 4 * DecodeSlots.Most);

    private readonly List<(int Place, Reading Reading)> _measured = [];
    private readonly TaskCompletionSource[] _done =
        [.. Enumerable.Range(0, count).Select(_ => new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously))];

    /// <summary>Keeps what was measured of a card, and gives the cards before it, newest first.</summary>
    /// <param name="place">The card's place in the run, from 0.</param>
    /// <param name="reading">Its reading.</param>
    public IReadOnlyList<Reading> Before(int place, Reading reading)
    {
        lock (_measured)
        {
            _measured.Add((place, reading));
            if (_measured.Count > MostHeld) _measured.Remove(_measured.MinBy(each => each.Place));
        }

        Leave(place);
        Task.WaitAll([.. _done.Take(place).Select(done => done.Task)]);
        lock (_measured)
        {
            IEnumerable<(int Place, Reading Reading)> before = _measured.Where(each => each.Place < place);
            return [.. before.OrderByDescending(each => each.Place).Select(each => each.Reading)];
        }
    }

    /// <summary>Lets the cards after one go on, also where nothing was measured of it.</summary>
    /// <param name="place">The card's place in the run, from 0.</param>
    public void Leave(int place) => _done[place].TrySetResult();
}
