namespace CardScan.Planning;

/// <summary>Finds many names in a text in one pass: the automaton of Aho and Corasick, Commun. ACM 18 (1975) 333–340.</summary>
internal sealed class NameNet<T>
{
    private readonly Dictionary<(int Node, char Letter), int> _steps = [];
    private readonly List<List<(int Length, T Name)>> _names = [[]];
    private readonly int[] _fallback, _nextNamed;

    internal NameNet(IEnumerable<(string Text, T Name)> names)
    {
        foreach ((string text, T name) in names) Add(text, name);
        (_fallback, _nextNamed) = (new int[_names.Count], new int[_names.Count]);
        Link();
    }

    /// <summary>Every place of every name, by its end.</summary>
    internal IEnumerable<(int Start, int End, T Name)> In(string text)
    {
        int node = 0;
        for (int at = 0; at < text.Length; at++)
        {
            node = Step(node, text[at]);
            for (int named = _names[node].Count > 0 ? node : _nextNamed[node]; named != 0; named = _nextNamed[named])
            {
                foreach ((int length, T name) in _names[named]) yield return (at + 1 - length, at + 1, name);
            }
        }
    }

    private void Add(string text, T name)
    {
        int node = 0;
        foreach (char letter in text)
        {
            if (!_steps.TryGetValue((node, letter), out int next))
            {
                next = _steps[(node, letter)] = _names.Count;
                _names.Add([]);
            }

            node = next;
        }

        _names[node].Add((text.Length, name));
    }

    /// <summary>Nodes are numbered as they were added, so a level is linked before the next by going through them by depth.</summary>
    private void Link()
    {
        ILookup<int, (char Letter, int Next)> children = _steps.ToLookup(step => step.Key.Node, step => (step.Key.Letter, step.Value));
        Queue<int> open = new([0]);
        while (open.TryDequeue(out int node))
        {
            foreach ((char letter, int next) in children[node])
            {
                int fallback = _fallback[next] = node == 0 ? 0 : Step(_fallback[node], letter);
                _nextNamed[next] = _names[fallback].Count > 0 ? fallback : _nextNamed[fallback];
                open.Enqueue(next);
            }
        }
    }

    private int Step(int node, char letter)
    {
        while (true)
        {
            if (_steps.TryGetValue((node, letter), out int next)) return next;
            if (node == 0) return 0;
            node = _fallback[node];
        }
    }
}
