using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Named values that come back from the database, which has them as <see cref="EnumName"/> writes them.</summary>
internal static class StoredValue
{
    /// <summary>The value of a code.</summary>
    /// <exception cref="InvalidDataException">There is none.</exception>
    public static T Value<T>(string code) where T : struct, Enum =>
        Enum.TryParse(code, ignoreCase: true, out T value) && Enum.IsDefined(value)
            ? value
            : throw new InvalidDataException($"\"{code}\" is no stored code");
}
