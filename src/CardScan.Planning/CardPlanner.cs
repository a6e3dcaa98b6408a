using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>From what a maker asks to a plan and its drawing: the one entry to this stage.</summary>
public static class CardPlanner
{
    /// <summary>Line interval of fills where none is asked for, mm (common practice, no source).</summary>
    public const double UsualLineIntervalMm = 0.1;

    /// <summary>
    /// Side of the smallest cut cells that are proposed, mm (chosen here): the sides of smaller ones are hard to tell apart in a
    /// back-lit photo.
    /// </summary>
    public const double SmallestProposedCutMm = 6;

    /// <summary>Makes a plan: axes, layout, markers.</summary>
    /// <param name="request">What is asked.</param>
    /// <returns>A plan that obeys <see cref="PlanRules"/>, or one line that names the option at fault and what to give.</returns>
    public static Outcome<Plan> MakePlan(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Refusal? fault = RequestCheck.FirstFault(request) ?? MaterialDanger.FirstFault(request.Material.Name, request.AcceptedRisk);
        if (fault is not null) return fault;

        Outcome<GridSettings> grid = GridSettings.From(request);
        if (grid.IsRefused) return grid.Refusal!;

        Outcome<CardLayout> layout = CardLayout.Fit(request, grid.Value);
        if (layout.IsRefused) return layout.Refusal!;

        Outcome<MarkSetting> marks = MarkChoice.For(request, grid.Value);
        if (marks.IsRefused) return marks.Refusal!;

        Plan plan = new()
        {
            Format = Plan.CurrentFormat,
            Number = request.Number,
            Title = request.Title,
            Process = request.Process,
            Kind = request.Kind == CardKind.Grid ? null : request.Kind,
            Material = request.Material,
            Machine = request.Machine,
            Card = layout.Value.Card,
            Fiducials = layout.Value.Fiducials,
            Frame = layout.Value.Frame,
            Columns = grid.Value.Columns,
            Rows = grid.Value.Rows,
            Fixed = grid.Value.Fixed with
            {
                AirAssist = request.AirAssist, FocusStepMm = request.FocusStepMm, PassPauseS = request.PassPauseS,
            },
            Cells = layout.Value.Cells,
            Start = request.Start,
            AcceptedRisk = request.AcceptedRisk,
        };
        int seed = request.Seed ?? request.Number;
        plan = plan with
        {
            Burning = new()
            {
                Seed = seed, Order = BurnOrder.Of(plan, seed), Marks = marks.Value, CellPauseS = request.CellPauseS,
            },
        };
        return (PlanRules.Check(plan) ?? MachineLimits.FirstFault(plan, request.Card is not null)) is { } refusal
            ? refusal
            : plan;
    }

    /// <summary>The request with the largest cells, gaps and markers that its card has room for.</summary>
    /// <param name="request">A request with a card's size.</param>
    /// <returns>The smallest there are where none fit: <see cref="MakePlan"/> then says what would.</returns>
    public static PlanRequest FitToCard(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request.Card is null || request.Kind == CardKind.FocusLadder ? request : SmallestSizes.FitTo(request);
    }

    /// <summary>
    /// Chooses the settings of a first card: from an earlier card, else from the table of starting energies
    /// (docs/method/first-card.md).
    /// </summary>
    /// <param name="request">What is asked.</param>
    /// <returns>
    /// Ranges within which the answer lies in about four of five cards, and what they rest on; or why there are none: the
    /// kind of material is not known, this laser does not take it, or it is out of reach.
    /// </returns>
    public static Outcome<Start> StartFor(StartRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return StartChooser.For(request);
    }

    /// <summary>Whether two names are of one kind of material, as far as their words tell.</summary>
    public static bool AreLike(string material, string other) => MaterialKinds.Of(material) is { } kind && kind == MaterialKinds.Of(other);

    /// <summary>Draws a plan at true size: markers, cells, labels.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <returns>
    /// An SVG text, width and height in mm, one user unit a millimetre of the card frame. What is drawn is burned: markers and
    /// engraved cells filled, cut cells and labels as lines, in the colour of their step. One group a step, in the order of
    /// burning; in it one group a cell, its settings as data attributes.
    /// </returns>
    public static string DrawSvg(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return CardDrawing.Svg(plan);
    }

    /// <summary>Draws one step of a plan alone; its size, place and colour are those of the whole drawing.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="step">One of its steps.</param>
    public static string DrawSvg(Plan plan, BurnStep step)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(step);
        return CardDrawing.Svg(plan, step);
    }

    /// <summary>What is burned, sorted by setting, and the colour of each setting in the drawing.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <returns>The steps in the order of burning: markers, labels, then the cells.</returns>
    public static ValueList<BurnStep> StepsOf(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return BurnSteps.Of(plan);
    }

    /// <summary>Writes the file that a machine takes: RS-274/NGC words, absolute millimetres, the beam off at every travel.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <returns>
    /// The text, its lower left corner of the card at X0 Y0; or why there is none: the plan does not say how it is burned,
    /// its machine's profile lacks what is needed, or the machine cannot do it.
    /// </returns>
    public static Outcome<string> WriteMachineFile(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (MachineFault(plan) is { } refusal) return refusal;
        BurnJob job = BurnJob.Of(plan);
        string file = MachineFile.Of(plan, job, BurnTime.Of(job, plan.Machine.RatedOpticalWatts));
        return MachineLimits.SizeFault(file.Length) is { } tooLarge ? tooLarge : file;
    }

    /// <summary>Why <see cref="WriteMachineFile"/> would write none, without writing it; null where it would.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    public static Refusal? MachineFileFault(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return MachineFault(plan) ?? (MachineLimits.MayBeTooLarge(plan) ? WriteMachineFile(plan).Refusal : null);
    }

    /// <summary>
    /// Writes a dry run for the machine: the head traces the edge of the card and the rectangle around all that is burned.
    /// </summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <param name="pointerPercent">
    /// Power of the beam as a pointer, percent of full power, above 0 to <see cref="CardExtras.MostPointerPercent"/>; null keeps it
    /// off.
    /// </param>
    /// <returns>The text; or why there is none, as <see cref="WriteMachineFile"/>, or because nobody can see this beam.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The power is more than a pointer may have.</exception>
    public static Outcome<string> WriteOutline(Plan plan, double? pointerPercent)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (pointerPercent is { } percent and not (> 0 and <= CardExtras.MostPointerPercent))
            throw new ArgumentOutOfRangeException(nameof(pointerPercent), percent, "A pointer has more than 0 % and few percent.");
        return (OutlineFile.Fault(plan.Machine, pointerPercent) ?? MachineFault(plan)) is { } refusal
            ? refusal
            : OutlineFile.Of(plan, BurnJob.Of(plan), pointerPercent);
    }

    /// <summary>Why the machine gets no file of a plan, or null.</summary>
    private static Refusal? MachineFault(Plan plan)
    {
        if (plan.Burning is null) return Refusal.OfInput(Codes.PlanNoBurning);
        Figure[] missing = MachineLimits.Missing(plan.Machine);
        return missing.Length > 0
            ? Refusal.OfInput(Codes.MachineIncomplete, ("missing", List(missing)), ("count", missing.Length))
            : MachineLimits.FirstFault(plan);
    }

    /// <summary>Prints the sheet of a plan with a frame.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/> and has a frame.</param>
    /// <returns>A PDF of two pages: the sheet at true size, and what to do with it.</returns>
    /// <exception cref="ArgumentException">The plan has no frame.</exception>
    public static byte[] PrintFrame(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Frame is null) throw new ArgumentException("The plan has no frame.", nameof(plan));
        return FramePdf.Of(plan);
    }

    /// <summary>Lays out a grey strip, to be printed and laid beside a card: its greys tell a photo's tones.</summary>
    /// <param name="number">The card's number, 0 to 249.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such number.</exception>
    public static Plan MakeStrip(int number)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(number);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(number, Plan.Numbers);
        return GreyStrip.Of(number);
    }

    /// <summary>Prints a grey strip.</summary>
    /// <param name="strip">A plan of <see cref="MakeStrip"/>.</param>
    /// <param name="paper">What it is printed on.</param>
    /// <returns>A PDF of one page: the strip at true size, and what to do with it.</returns>
    /// <exception cref="ArgumentException">The plan is no strip's.</exception>
    public static byte[] PrintStrip(Plan strip, Paper paper)
    {
        ArgumentNullException.ThrowIfNull(strip);
        if (!strip.IsPrinted) throw new ArgumentException("The plan is no grey strip's.", nameof(strip));
        return StripPdf.Of(strip, paper);
    }

    /// <summary>Paints what the beam will do; darker where the dose is higher, without a promise of how the material will look.</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/> and says how it is burned.</param>
    /// <returns>A PNG.</returns>
    /// <exception cref="ArgumentException">The plan does not say how it is burned.</exception>
    public static byte[] PaintPreview(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Burning is null) throw new ArgumentException("The plan does not say how it is burned.", nameof(plan));
        return Preview.Png(plan);
    }

    /// <summary>The same as an SVG text that fits any width: made in a moment, for a preview that follows every change.</summary>
    /// <param name="plan">A plan as <see cref="PaintPreview"/> takes it.</param>
    /// <exception cref="ArgumentException">The plan does not say how it is burned.</exception>
    public static string DrawPreview(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Burning is null) throw new ArgumentException("The plan does not say how it is burned.", nameof(plan));
        return Preview.Svg(plan);
    }

    /// <summary>Estimates time and energy; what the machine's profile does not tell is taken as usual (docs/method/burn-time.md).</summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/> and says how it is burned.</param>
    /// <exception cref="ArgumentException">The plan does not say how it is burned.</exception>
    public static BurnEstimate Estimate(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Burning is null) throw new ArgumentException("The plan does not say how it is burned.", nameof(plan));
        return BurnTime.Of(BurnJob.Of(plan), plan.Machine.RatedOpticalWatts);
    }

    /// <summary>
    /// What a maker may want to look at again before burning; the machine and material hints among them are guesses by name and
    /// number.
    /// </summary>
    /// <param name="plan">A plan that obeys <see cref="PlanRules"/>.</param>
    /// <param name="isByBurnedCard">True for a card that was planned by a burned one, which tells best what the material needs.</param>
    public static ValueList<Advice> HintsFor(Plan plan, bool isByBurnedCard = false)
    {
        ArgumentNullException.ThrowIfNull(plan);
        Advice[] hints = [.. OfMaterial(plan), .. PlanHints.Of(plan), .. BurnHints.Of(plan, isByBurnedCard)];
        // What lets the beam through is said once, with what the beam burns then.
        return [.. hints.Where(hint => hint.Code != Codes.LaserNotTaken || hints.All(other => other.Code != Codes.MaterialTransparent))];
    }

    /// <summary>A danger that was accepted is repeated in the words in which it was.</summary>
    private static IEnumerable<Advice> OfMaterial(Plan plan)
    {
        if (StartChooser.NotTaken(plan.Material, plan.Process, plan.Machine) is { } notTaken) yield return notTaken;
        ValueList<Advice> against = AgainstBurning(plan.Material.Name);
        foreach (Advice advice in against.Where(each => each.Code != Codes.MaterialDanger || plan.AcceptedRisk is null))
            yield return advice;
        if (against.Count == 0 && MaterialKinds.Of(plan.Material.Name) is null)
            yield return new(Codes.MaterialUnknown, ("material", plan.Material.Name));
    }

    /// <summary>Refuses a material by its name, as <see cref="MakePlan"/> does; for profiles, before they are saved.</summary>
    /// <param name="materialName">The name. One that says nothing proves nothing (docs/method/material-names.md).</param>
    /// <param name="acceptedRisk">The dangers in the refusal's own words, where they were accepted.</param>
    /// <returns>The refusal, with every danger that the name tells of; null where it tells of none, or all are accepted.</returns>
    public static Refusal? DangerOf(string materialName, string? acceptedRisk = null)
    {
        ArgumentNullException.ThrowIfNull(materialName);
        return MaterialDanger.FirstFault(materialName, acceptedRisk);
    }

    /// <summary>
    /// What a material's name tells against burning it, to be told beside every setting for it: its dangers, then what to look
    /// up; empty where the name tells of nothing, which proves nothing.
    /// </summary>
    /// <param name="materialName">The name.</param>
    public static ValueList<Advice> AgainstBurning(string materialName)
    {
        ArgumentNullException.ThrowIfNull(materialName);
        return MaterialDanger.Against(materialName).ToValueList();
    }

    /// <summary>Hints where a machine's watts look like those of its supply, or its fastest feed like one in mm/s.</summary>
    public static IEnumerable<Advice> MachineHints(Machine machine)
    {
        ArgumentNullException.ThrowIfNull(machine);
        return BurnHints.OfMachine(machine);
    }

    /// <summary>Scale at which an ordinary phone, 12 megapixels and four fifths of the frame filled, sees a card, px/mm.</summary>
    public static double PhotoPxPerMm(CardSize card)
    {
        ArgumentNullException.ThrowIfNull(card);
        return PhotoBudget.PxPerMm(card);
    }
}
