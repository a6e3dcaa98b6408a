using System.Text.Json;

namespace CardScan.Model;

/// <summary>Named values as the files, the database, the command line and the branches of sentences have them.</summary>
public static class EnumName
{
    /// <summary>The name of a value: <c>engrave</c>, <c>powerPercent</c>.</summary>
    /// <param name="value">The value.</param>
    public static string Of<T>(T value) where T : struct, Enum => Of(value.ToString());

    /// <summary>The name of a value; null where there is none.</summary>
    /// <param name="value">The value.</param>
    public static string? Of<T>(T? value) where T : struct, Enum => value is { } known ? Of(known) : null;

    /// <summary>The name of a member of an enumeration.</summary>
    /// <param name="member">The member as it stands in code.</param>
    internal static string Of(string member) => JsonNamingPolicy.CamelCase.ConvertName(member);
}
