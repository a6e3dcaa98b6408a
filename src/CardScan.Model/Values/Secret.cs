using System.Buffers.Text;
using System.Security.Cryptography;

namespace CardScan.Model;

/// <summary>Codes that let somebody in, and keys that browsers show: nobody guesses them.</summary>
public static class Secret
{
    /// <summary>A new one: 128 random bits in 22 letters, digits, dashes and underscores.</summary>
    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(16));
}
