using System.Text;
using CardScan.Reporting;
using QRCoder;

namespace CardScan.Web;

/// <summary>A link as squares to be scanned: dark on light, within a light margin of four (ISO/IEC 18004, section 5.3.8).</summary>
/// <param name="Size">Squares a side, the margin with them.</param>
/// <param name="IsDark">Whether the square of a row and a column is dark.</param>
internal sealed record LinkCode(int Size, Func<int, int, bool> IsDark)
{
    /// <summary>The code of a link.</summary>
    public static LinkCode Of(string link)
    {
        using QRCodeData code = QRCodeGenerator.GenerateQrCode(link, QRCodeGenerator.ECCLevel.M);
        bool[][] squares = [.. code.ModuleMatrix.Select(row => row.Cast<bool>().ToArray())];
        return new(squares.Length, (row, column) => row < squares.Length && squares[row][column]);
    }

    /// <summary>As a drawing, whatever the page's colours are.</summary>
    public XElement ToSvg()
    {
        string dark = string.Concat(
            from row in Enumerable.Range(0, Size)
            from column in Enumerable.Range(0, Size)
            where IsDark(row, column)
            select $"M{column} {row}h1v1h-1z");
        return new(
            "svg", Html.Class("code"), new XAttribute("viewBox", $"0 0 {Size} {Size}"), new XAttribute("role", "img"),
            new XAttribute("aria-label", Voice.Say("web.phones.code")), new XAttribute("shape-rendering", "crispEdges"),
            new XElement("rect", new XAttribute("width", Size), new XAttribute("height", Size), new XAttribute("fill", "#fff")),
            new XElement("path", new XAttribute("d", dark), new XAttribute("fill", "#000")));
    }

    /// <summary>As lines of half blocks: two rows a line, the light squares drawn.</summary>
    public string ToText()
    {
        StringBuilder text = new();
        for (int row = 0; row < Size; row += 2)
        {
            for (int column = 0; column < Size; column++)
                text.Append((IsDark(row, column), row + 1 < Size && !IsDark(row + 1, column)) switch
                {
                    (false, true) => '█',
                    (false, false) => '▀',
                    (true, true) => '▄',
                    _ => ' ',
                });
            text.Append('\n');
        }

        return text.ToString().TrimEnd('\n');
    }
}
