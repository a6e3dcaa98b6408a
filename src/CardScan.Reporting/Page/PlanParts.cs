using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The pieces of a plan's page of settings, for a page that puts them in an order of its own.</summary>
/// <remarks>Each call makes new elements: an element stands in one page only.</remarks>
/// <param name="plan">The plan.</param>
public sealed class PlanParts(Plan plan)
{
    /// <summary>Which card this is, what it is burned into and with.</summary>
    public XElement Title() => new(
        "header",
        Html.Paragraph(Html.Class("eyebrow"), ShownPlan.Number(plan)),
        new XElement("h1", plan.Title.Length == 0 ? ShownPlan.Material(plan.Material) : plan.Title),
        Html.Paragraph(ShownPlan.Subtitle(plan)),
        Html.Paragraph(Voice.Tell(plan.EveryCell())));

    /// <summary>The colours of the drawing with what each is burned with.</summary>
    /// <param name="steps">What is burned, sorted by setting.</param>
    public static XElement Steps(ValueList<BurnStep> steps) => StepsPage.Part(steps);
}
