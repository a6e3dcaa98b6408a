using System.Text;
using System.Text.RegularExpressions;

namespace CardScan.Fuzz;

/// <summary>Damage of the kinds that break parsers.</summary>
internal static partial class Mutations
{
    private static readonly byte[] Edges = [0, 1, 0x7F, 0x80, 0xFE, 0xFF];

    private static readonly string[] OddValues =
        ["0", "-1", "1e308", "-1e-308", "1e400", "2147483648", "99999999999999999999", "0.1", "null", "true", "\"\"", "\"NaN\"", "[]", "{}",
            "[[[[[[]]]]]]", "\"\\ud800\"", "1.0000000000000000000001"];

    /// <summary>Some bytes changed, put in, taken out, doubled or cut off; half of it near the start, where headers are.</summary>
    public static byte[] OfBytes(byte[] seed, Random random)
    {
        List<byte> bytes = [.. seed];
        for (int i = random.Next(1, 9); i > 0 && bytes.Count > 4; i--)
        {
            int at = random.Next(random.Next(2) == 0 ? Math.Min(bytes.Count, 1200) : bytes.Count);
            int length = Math.Min(random.Next(1, 1 << random.Next(1, 12)), bytes.Count - at);
            switch (random.Next(8))
            {
                case 0: bytes[at] = (byte)random.Next(256); break;
                case 1: bytes[at] = Edges[random.Next(Edges.Length)]; break;
                case 2: bytes[at] ^= (byte)(1 << random.Next(8)); break;
                case 3: for (int k = at; k < Math.Min(at + 4, bytes.Count); k++) bytes[k] = Edges[random.Next(Edges.Length)]; break;
                case 4: bytes.InsertRange(at, bytes.GetRange(random.Next(bytes.Count - length + 1), length)); break;
                case 5: bytes.RemoveRange(at, length); break;
                case 6: for (int k = at; k < at + length; k++) bytes[k] = 0; break;
                default: if (random.Next(4) == 0) bytes.RemoveRange(at, bytes.Count - at); break;
            }
        }

        return [.. bytes];
    }

    /// <summary>Values of a JSON text replaced, names spoiled, parts repeated; now and then its bytes damaged.</summary>
    public static byte[] OfJson(string seed, Random random)
    {
        string text = seed;
        for (int i = random.Next(1, 4); i > 0; i--)
        {
            MatchCollection values = Value().Matches(text);
            if (values.Count == 0) break;
            Match value = values[random.Next(values.Count)];
            string other = random.Next(3) == 0 ? values[random.Next(values.Count)].Value : OddValues[random.Next(OddValues.Length)];
            text = text.Remove(value.Index, value.Length).Insert(value.Index, other);
        }

        byte[] utf8 = Encoding.UTF8.GetBytes(text);
        return random.Next(5) == 0 ? OfBytes(utf8, random) : utf8;
    }

    /// <summary>Numbers and texts.</summary>
    [GeneratedRegex("-?[0-9]+(\\.[0-9]+)?|\"[^\"]*\"", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Value();
}
