using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>What came of one photo, which is closed again.</summary>
/// <param name="Path">Its file.</param>
/// <param name="View">What it tells of its card; or why nothing.</param>
internal sealed record MeasuredPhoto(string Path, Outcome<CardView> View)
{
    /// <summary>Its file without the folder, or the name that it came with.</summary>
    public string Name { get; init; } = System.IO.Path.GetFileName(Path);

    /// <summary>Number of the card that it belongs to; null where it shows none.</summary>
    public int? Card { get; init; }

    /// <summary>The plan that it was measured with, or why there is none; null where it was not asked for.</summary>
    public Outcome<ChosenPlan>? Plan { get; init; }

    /// <summary>Fingerprint of its bytes; null where they were not decoded.</summary>
    public string? Sha256 { get; init; }

    /// <summary>The corners of its card that are seen in it, and where those that are missing should be.</summary>
    public ValueList<CardCorner> Corners { get; init; } = [];

    /// <summary>Its rectified picture, where a report is wanted.</summary>
    public ShelvedPicture? Picture { get; init; }

    /// <summary>Opens a photo, measures the card that it shows with that card's plan, and closes it.</summary>
    /// <param name="path">The photo.</param>
    /// <param name="request">How to measure.</param>
    /// <param name="plans">Gives the plan.</param>
    /// <param name="shelf">Takes the rectified picture.</param>
    /// <param name="name">The name that it came with; null for that of its file.</param>
    public static MeasuredPhoto Of(string path, ReadRequest request, PlanBook plans, PictureShelf shelf, string? name = null)
    {
        MeasuredPhoto measured = Measure(path, name ?? System.IO.Path.GetFileName(path), request, plans, shelf);
        return name is null ? measured : measured with { Name = name };
    }

    private static MeasuredPhoto Measure(string path, string name, ReadRequest request, PlanBook plans, PictureShelf shelf)
    {
        int? only = plans.Only?.File.Plan.Number;
        Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
        if (bytes.IsRefused) return new(path, bytes.Refusal!) { Card = only };

        Outcome<OpenPhoto> opened = CardReader.Open(new(name, bytes.Value));
        if (opened.IsRefused) return new(path, opened.Refusal!) { Card = only };
        using OpenPhoto photo = opened.Value;
        Outcome<ChosenPlan> plan = plans.For(photo.CardNumbers);
        if (plan.IsRefused) return new(path, plan.Refusal!) { Card = photo.CardNumbers[0], Plan = plan, Sha256 = photo.Sha256 };

        PlanFile file = plan.Value.File;
        Outcome<CardView> view = photo.Measure(file.Plan, request.Vision);
        MeasuredPhoto measured = new(path, view) { Card = file.Plan.Number, Plan = plan, Sha256 = photo.Sha256, Corners = photo.Corners };
        if (view is not { IsRefused: false, Value.Picture: { } picture }) return measured;
        Outcome<ShelvedPicture> shelved = shelf.Put(picture);
        return shelved.IsRefused
            ? measured with { View = shelved.Refusal! }
            : measured with { View = view.Value with { Picture = null }, Picture = shelved.Value };
    }
}
