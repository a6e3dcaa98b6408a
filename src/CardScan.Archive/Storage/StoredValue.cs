using System.Text.Json;

namespace CardScan.Archive;

/// <summary>Named values as the files have them, and so the database too.</summary>
internal static class StoredValue
{
    /// <summary>The code of a value: <c>engrave</c>.</summary>
    public static string Of<T>(T value) where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());

    /// <summary>The code of a value, or null.</summary>
    public static string? Of<T>(T? value) where T : struct, Enum => value is { } known ? Of(known) : null;

    /// <summary>The value of a code.</summary>
    /// <exception cref="InvalidDataException">There is none.</exception>
    public static T Value<T>(string code) where T : struct, Enum =>
        Enum.TryParse(code, ignoreCase: true, out T value) && Enum.IsDefined(value)
            ? value
            : throw new InvalidDataException($"\"{code}\" is no stored code");
}
