using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The model behind the page, for those who ask: closed until opened.</summary>
internal static class ModelSection
{
    public static XElement? Write(Reading reading) => reading.Model is not { } model ? null : Html.Section(
        "model", Voice.Say("page.model.title"),
        new XElement(
            "details",
            new XElement("summary", ShownModel.Name(model.Name)),
            Html.Facts(
            [
                .. model.Parameters.Select(parameter => ShownModel.Parameter(parameter.Key, parameter.Value)),
                .. model.Diagnostics.Select(diagnostic => ShownModel.Diagnostic(diagnostic.Key, diagnostic.Value)),
            ])));
}
