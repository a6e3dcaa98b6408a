using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Command lines that bring names together and take that back, as a shell takes them.</summary>
public static class RenameLine
{
    /// <summary>The line that keeps one name under another.</summary>
    public static string Of(NamedKind kind, string old, string newName) => $"{Start(kind, old)} {Word(newName)}";

    /// <summary>The line that takes it back.</summary>
    public static string Back(NamedKind kind, string old) => $"{Start(kind, old)} --undo";

    private static string Start(NamedKind kind, string old) => $"cardscan archive rename {EnumName.Of(kind)} {Word(old)}";

    /// <summary>A name between marks inside which a shell reads nothing of its own.</summary>
    internal static string Word(string name) => name.Any(c => c is '"' or '$' or '`' or '\\' or '!')
        ? $"'{name.Replace("'", @"'\''", StringComparison.Ordinal)}'"
        : $"\"{name}\"";
}
