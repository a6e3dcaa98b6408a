using System.CommandLine;
using System.CommandLine.Invocation;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using CardScan.Language;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary>Which build of the program this is, and what it was built with.</summary>
internal static class BuildVersion
{
    /// <summary>Letters of a commit's name that are shown: git's own short form has as many in a repository of this size.</summary>
    private const int CommitLetters = 7;

    private const string PartKey = "part:";

    private static readonly string[] Informational = typeof(BuildVersion).Assembly
        .GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+');

    /// <summary>Without the commit, which other builds have otherwise: <c>0.1.0</c>.</summary>
    public static string Number => Informational[0];

    /// <summary>With the commit, where the build knew it: <c>0.1.0 (567a2eb)</c>.</summary>
    public static string Whole =>
        Informational is [var number, { Length: >= CommitLetters } commit, ..] ? $"{number} ({commit[..CommitLetters]})" : Number;

    /// <summary>Makes <c>--version</c> tell build, runtime and native parts.</summary>
    public static void TellIn(RootCommand root, Terminal terminal)
    {
        foreach (VersionOption option in root.Options.OfType<VersionOption>()) option.Action = new Telling(terminal);
    }

    /// <summary>The packages of the native parts, as the build named them (CardScan.Cli.csproj).</summary>
    private static string Parts => string.Join(", ", typeof(BuildVersion).Assembly.GetCustomAttributes<AssemblyMetadataAttribute>()
        .Where(part => part.Key.StartsWith(PartKey, StringComparison.Ordinal))
        .Select(part => $"{part.Key[PartKey.Length..]} {part.Value}").Order(StringComparer.Ordinal));

    private sealed class Telling(Terminal terminal) : SynchronousCommandLineAction
    {
        public override int Invoke(ParseResult parseResult)
        {
            terminal.ShowLine(Voice.Say("checkup.version", ("version", Whole), ("runtime", RuntimeInformation.FrameworkDescription),
                ("native", Is(!RuntimeFeature.IsDynamicCodeSupported)), ("system", RuntimeInformation.RuntimeIdentifier),
                ("parts", Parts)));
            return ExitCode.Done;
        }
    }
}
