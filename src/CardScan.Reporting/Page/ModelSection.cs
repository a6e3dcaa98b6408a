using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The model behind the page, for those who ask: closed until opened.</summary>
internal static class ModelSection
{
    public static XElement? Write(Reading reading) => reading.Model is not { } model ? null : Html.Section(
        "model", "The fitted model",
        new XElement(
            "details",
            new XElement("summary", ModelWords.Name(model.Name)),
            Html.Facts(
            [
                .. model.Parameters.Select(parameter => ModelWords.Parameter(parameter.Key, parameter.Value)),
                .. model.Diagnostics.Select(diagnostic => ModelWords.Diagnostic(diagnostic.Key, diagnostic.Value)),
            ])));
}
