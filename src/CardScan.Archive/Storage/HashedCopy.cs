using System.Security.Cryptography;

namespace CardScan.Archive;

/// <summary>Copies bytes of any number in little memory, and tells what they are.</summary>
internal static class HashedCopy
{
    private const int BufferBytes = 81920;

    /// <summary>Copies everything.</summary>
    /// <param name="from">Read to its end.</param>
    /// <param name="to">Where to.</param>
    /// <param name="mayTake">Asked after each piece, with its bytes, before it is written; null allows everything.</param>
    /// <returns>SHA-256 of the bytes, as names have it; null where it was stopped.</returns>
    public static string? Run(Stream from, Stream to, Func<int, bool>? mayTake = null)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] buffer = new byte[BufferBytes];
        for (int read; (read = from.Read(buffer)) > 0;)
        {
            if (mayTake?.Invoke(read) == false) return null;
            hash.AppendData(buffer, 0, read);
            to.Write(buffer, 0, read);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
