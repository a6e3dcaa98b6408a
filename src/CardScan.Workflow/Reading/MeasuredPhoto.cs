using CardScan.Language;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>What one photo, which is closed again, tells of one card.</summary>
/// <param name="Path">Its file.</param>
/// <param name="View">What it tells of the card; or why nothing.</param>
internal sealed record MeasuredPhoto(string Path, Outcome<CardView> View)
{
    /// <summary>Its file without the folder, or the name that it came with.</summary>
    public string Name { get; init; } = System.IO.Path.GetFileName(Path);

    /// <summary>Number of the card; null where the photo shows none.</summary>
    public int? Card { get; init; }

    /// <summary>True where the photo shows other cards too.</summary>
    public bool IsOneOfSeveral { get; init; }

    /// <summary>The plan that it was measured with, or why there is none; null where it was not asked for.</summary>
    public Outcome<ChosenPlan>? Plan { get; init; }

    /// <summary>Fingerprint of its bytes; null where they were not decoded.</summary>
    public string? Sha256 { get; init; }

    /// <summary>The corners of its card that are seen in it, and where those that are missing should be.</summary>
    public ValueList<CardCorner> Corners { get; init; } = [];

    /// <summary>Its rectified picture, where a report is wanted.</summary>
    public ShelvedPicture? Picture { get; init; }

    /// <summary>What it tells beside other photos of its card, where it tells nothing alone.</summary>
    public CardView? Aside { get; init; }

    /// <summary>Its name in messages: with the card's number where it shows several.</summary>
    public string NameOfCard => IsOneOfSeveral && Card is { } number
        ? Voice.Say("workflow.card-in-photo", ("number", number), ("photo", Name))
        : Name;

    /// <summary>Opens a photo, measures each card that it shows with that card's plan, and closes it.</summary>
    /// <param name="path">The photo.</param>
    /// <param name="request">How to measure.</param>
    /// <param name="plans">Gives the plans.</param>
    /// <param name="tones">Knows what tones hang on.</param>
    /// <param name="shelf">Takes the rectified pictures.</param>
    /// <param name="name">The name that it came with; null for that of its file.</param>
    /// <returns>One for each card; one without a card where it shows none.</returns>
    public static ValueList<MeasuredPhoto> Of(
        string path, ReadRequest request, PlanBook plans, ToneBook tones, PictureShelf shelf, string? name = null)
    {
        name ??= System.IO.Path.GetFileName(path);
        Outcome<OpenPhoto> opened = Open(path, name);
        if (opened.IsRefused) return [new(path, opened.Refusal!) { Name = name, Card = plans.Only?.File.Plan.Number }];
        using OpenPhoto photo = opened.Value;
        CardToMeasure[] cards = [.. plans.CardsOf(photo.CardNumbers)];
        PhotoTones known = tones.In(photo, plans);
        return cards.Select(card => Measure(photo, card, request, known, shelf) with
        {
            Path = path, Name = name, IsOneOfSeveral = cards.Length > 1,
        }).ToValueList();
    }

    /// <summary>The same, its file opened once more and measured with the tone curve of its phone.</summary>
    /// <param name="vision">How it was measured.</param>
    /// <param name="series">What its card's photos tell of their phones.</param>
    /// <returns>This photo as it is where the curve is not known.</returns>
    public MeasuredPhoto Toned(VisionOptions vision, PhotoSeries series)
    {
        if (series.ResponseOf(View.Value.Record) is not { } response) return this;
        using IDisposable place = DecodeSlots.Enter();
        Outcome<OpenPhoto> opened = Open(Path, Name);
        if (opened.IsRefused) return this with { View = opened.Refusal! };
        using OpenPhoto photo = opened.Value;
        return this with { View = photo.Measure(Plan!.Value.File.Plan, vision with { WithPictures = false, Response = response }) };
    }

    private static Outcome<OpenPhoto> Open(string path, string name)
    {
        Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
        return bytes.IsRefused ? bytes.Refusal! : CardReader.Open(new(name, bytes.Value));
    }

    private static MeasuredPhoto Measure(
        OpenPhoto photo, CardToMeasure card, ReadRequest request, PhotoTones tones, PictureShelf shelf)
    {
        Outcome<CardView> view = card.Plan.IsRefused
            ? card.Plan.Refusal!
            : photo.Measure(card.Plan.Value.File.Plan, tones.Fit(request.Vision, card.Plan.Value.File.Plan));
        MeasuredPhoto measured = new(photo.Name, view)
        {
            Card = card.Number, Plan = card.Plan, Sha256 = photo.Sha256, Corners = card.Plan.IsRefused ? [] : photo.Corners,
            Aside = card.Plan.IsRefused ? null : photo.Aside,
        };
        if (view is not { IsRefused: false, Value.Picture: { } picture }) return measured;
        Outcome<ShelvedPicture> shelved = shelf.Put(picture);
        return shelved.IsRefused
            ? measured with { View = shelved.Refusal! }
            : measured with { View = view.Value with { Picture = null }, Picture = shelved.Value };
    }
}
