using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Memory of pictures, kept and used again: a system may take longer to hand out fresh memory than decoding takes.</summary>
/// <remarks>For several threads at once.</remarks>
/// <param name="most">Pieces of memory that are kept.</param>
internal sealed class PictureMemory(int most)
{
    /// <summary>Pictures that count as recent.</summary>
    public const int Remembered = 16;

    /// <summary>Sizes are rounded up to this, bytes, so that pictures of about one size share their memory.</summary>
    private const int Step = 1 << 20;

    private readonly Lock _gate = new();
    private readonly Queue<int> _recent = [];

    /// <summary>What is kept, the smallest first.</summary>
    private readonly List<(int Size, Mat Memory)> _kept = [];

    /// <summary>That of the process.</summary>
    public static PictureMemory Shared { get; } = new(Environment.ProcessorCount);

    /// <summary>Bytes that are kept.</summary>
    public long Kept
    {
        get
        {
            lock (_gate) return _kept.Sum(kept => (long)kept.Size);
        }
    }

    /// <summary>Memory that nobody else has, of at least so many bytes, with anything in it.</summary>
    public Mat Take(int bytes)
    {
        int size = (bytes + Step - 1) / Step * Step;
        lock (_gate)
        {
            _recent.Enqueue(size);
            if (_recent.Count > Remembered) _recent.Dequeue();
            FreeUnneeded();
            int found = _kept.FindIndex(kept => kept.Size >= size);
            if (found < 0) return new Mat(1, size, MatType.CV_8UC1);
            Mat memory = _kept[found].Memory;
            _kept.RemoveAt(found);
            return memory;
        }
    }

    /// <summary>Takes memory back, to be kept or freed; the giver uses it no more.</summary>
    public void GiveBack(Mat memory)
    {
        lock (_gate)
        {
            _kept.Add((memory.Cols, memory));
            _kept.Sort((one, other) => one.Size.CompareTo(other.Size));
            FreeUnneeded();
        }
    }

    /// <summary>Keeps nothing that is larger than every recent picture, and of the rest the largest.</summary>
    private void FreeUnneeded()
    {
        int largest = _recent.Max();
        while (_kept.Count > 0 && _kept[^1].Size > largest) Free(_kept.Count - 1);
        while (_kept.Count > most) Free(0);
    }

    private void Free(int index)
    {
        _kept[index].Memory.Dispose();
        _kept.RemoveAt(index);
    }
}
