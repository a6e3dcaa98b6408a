using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What to mind before running anything that stands on this page.</summary>
internal static class CautionSection
{
    public static XElement Write(Plan plan) => Html.Section(
        "cautions", "Before you run it",
        new XElement("ul", Html.Class("cautions"), Items(plan).Select(item => new XElement("li", new XElement("strong", item.Head), " ", item.Words))));

    private static IEnumerable<(string Head, string Words)> Items(Plan plan)
    {
        yield return ("Eyes.", "Everybody in the room wears eyewear rated for this machine's wavelength and power, or the machine is fully enclosed.");
        yield return ("Air.", "Run the extraction. Know what the material gives off: some plastics and coatings release poisonous or corrosive fumes and must not be burned; the material's data sheet tells.");
        yield return ("Never unattended.", "Stay with the machine while it burns, and can stop it at once.");
        yield return ("Fire.", plan.Process == Process.Cut
            ? "Slow, strong cuts can set the material alight. Keep a suitable extinguisher within reach, clear away what fell out, and watch the place for a while after the job."
            : "Keep a suitable extinguisher within reach, and watch the place for a while after the job: char can glow on.");
        yield return ("What comes first.", "The machine's manual, the material's data sheet, the rules of your place and the judgement of a qualified person come before anything on this page.");
        yield return ("What this is.", "A suggestion measured on one card: one piece of one batch, one machine, one day. It is no promise. Lens, focus, age of the source and another batch change it: try it on a scrap first.");
    }
}
