using System.Globalization;
using CsvHelper;

namespace CardScan.Reporting;

/// <summary>A column of a table.</summary>
/// <param name="Header">Its heading, with the unit.</param>
/// <param name="Value">What a row has in it; null where it has nothing.</param>
internal sealed record CsvColumn<T>(string Header, Func<T, object?> Value);

/// <summary>
/// A table for other programs: RFC 4180, units in the header, empty where there is nothing. Names come from files that anybody may have
/// written: none may run in a spreadsheet as a formula, or tell a terminal what to do.
/// </summary>
internal static class CsvTable
{
    // The defaults are RFC 4180. Escaped are texts that begin as formulas do (OWASP, "CSV Injection"; from memory), and no numbers.
    private static readonly CsvWriterOptions Options = CsvWriterOptions.Default with
    {
        Injection = CsvInjection.Escape,
        FormatProvider = CultureInfo.InvariantCulture,
    };

    /// <summary>A whole table.</summary>
    public static string Of<T>(IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows)
    {
        using StringWriter text = new(CultureInfo.InvariantCulture);
        using (CsvWriter csv = Begin(text))
        {
            WriteHeader(csv, columns);
            Write(csv, columns, rows);
        }

        return text.ToString();
    }

    /// <summary>Begins a table that is written piece by piece.</summary>
    public static CsvWriter Begin(TextWriter text) => CsvWriter.Create(text, Options, leaveOpen: true);

    /// <summary>Writes the headings.</summary>
    public static void WriteHeader<T>(CsvWriter csv, IReadOnlyList<CsvColumn<T>> columns) =>
        csv.WriteHeader([.. columns.Select(column => column.Header)]);

    /// <summary>Writes rows.</summary>
    public static void Write<T>(CsvWriter csv, IReadOnlyList<CsvColumn<T>> columns, IEnumerable<T> rows)
    {
        foreach (T row in rows)
        {
            foreach (CsvColumn<T> column in columns) csv.WriteField(Plain(column.Value(row)));
            csv.EndRecord();
        }
    }

    /// <summary>A text in one line of signs that do nothing; no blank hides how it begins.</summary>
    private static object? Plain(object? value) => value is string text && text.Any(char.IsControl)
        ? string.Concat(text.Select(sign => char.IsControl(sign) ? ' ' : sign)).Trim()
        : value;
}
