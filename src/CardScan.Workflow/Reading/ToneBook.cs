using System.Collections.Concurrent;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>
/// What the archive tells of a photo's tones: by a card in it whose darkness is known, else by earlier series of its phone.
/// </summary>
/// <remarks>May be asked by several threads; each phone and each card is looked up once.</remarks>
internal sealed class ToneBook
{
    private readonly ArchivePlace? _archive;
    private readonly ConcurrentDictionary<PhotoCamera, Lazy<CameraResponse?>> _phones = new();
    private readonly ConcurrentDictionary<string, Lazy<Reading?>> _cards = new();

    private ToneBook(ArchivePlace? archive) => _archive = archive;

    /// <summary>What a run may use: nothing without an archive, or where tones are to be taken as they are.</summary>
    public static ToneBook Of(ReadRequest request) => new(request.HasPlainTones ? null : request.Archive);

    /// <summary>What a photo's tones are known by.</summary>
    /// <param name="photo">The photo.</param>
    /// <param name="plans">Gives the plans of its cards.</param>
    public PhotoTones In(OpenPhoto photo, PlanBook plans)
    {
        if (_archive is null || photo.IsRaw) return PhotoTones.Plain;
        PhotoTones phone = new(photo.Camera is { } camera ? OfPhone(camera) : null);
        // A card alone cannot tell its own tones.
        if (photo.CardNumbers.Count < 2) return phone;
        PlanFile[] cards = [.. plans.AllCardsOf(photo.CardNumbers)
            .Where(card => !card.Plan.IsRefused).Select(card => card.Plan.Value.File).Where(file => PhotoTones.Matter(file.Plan))];
        // A strip tells its photo's tones or none: what a phone lets expect would bend the scale that later photos are brought to.
        if (cards.Any(file => file.Plan.IsPrinted)) phone = PhotoTones.Plain;
        foreach ((PlanFile card, Reading known) in KnownAmong(cards, photo))
        {
            if (photo.Measure(card.Plan, new()) is not { IsRefused: false } seen) continue;
            (CameraResponse? response, Warning? doubt) = CardReader.ResponseBeside(seen.Value, known);
            if (response is not null) return new(response) { Reference = card.Plan.Number, OfPhone = phone.Response };
            if (doubt is not null) return phone with { Doubt = doubt };
        }

        return phone;
    }

    /// <summary>The cards whose darkness is known, those first that tell it as it is.</summary>
    private IEnumerable<(PlanFile Card, Reading Known)> KnownAmong(PlanFile[] cards, OpenPhoto photo) => cards
        .Select(card => (Card: card, Known: KnownReadingOf(card.Sha256)))
        .Where(each => each.Known is not null && !IsScaleItself(each.Known, photo))
        .OrderBy(each => IsScale(each.Known!))
        .Select(each => (each.Card, each.Known!));

    /// <summary>True where it does not tell darkness as it is, but brings others to the tones of its photo.</summary>
    private static bool IsScale(Reading known) => known.Photos.Any(photo => photo.Response is null);

    /// <summary>A photo that others are brought to stays as it is when it is read again.</summary>
    private static bool IsScaleItself(Reading known, OpenPhoto photo) =>
        IsScale(known) && known.Photos.Any(scale => scale.Sha256 == photo.Sha256);

    /// <summary>An archive that cannot be read knows no phone either: whoever needs it says so.</summary>
    private CameraResponse? OfPhone(PhotoCamera camera) =>
        _phones.GetOrAdd(camera, _ => new(() => _archive!.Use(kept => kept.ResponsesOf(camera)) is { IsRefused: false } told
            ? CardReader.ResponseOfPhone(told.Value)
            : null)).Value;

    private Reading? KnownReadingOf(string planSha256) =>
        _cards.GetOrAdd(planSha256, _ => new(() => _archive!.Use(kept => kept.KnownDarkness(planSha256)) is { IsRefused: false } known
            ? known.Value
            : null)).Value;
}

/// <summary>What is known of a photo's tones.</summary>
/// <param name="Response">The curve to undo; null where none is known.</param>
internal sealed record PhotoTones(CameraResponse? Response)
{
    /// <summary>Nothing is known.</summary>
    public static readonly PhotoTones Plain = new(Response: null);

    /// <summary>Number of the card that told the curve; null where the phone's earlier series did.</summary>
    public int? Reference { get; init; }

    /// <summary>What the phone's earlier series let expect, for the reference itself.</summary>
    public CameraResponse? OfPhone { get; init; }

    /// <summary>Why a card whose darkness is known told no curve.</summary>
    public Warning? Doubt { get; init; }

    /// <summary>How a card of the photo is measured: the one that told the curve without it, unless it is there for nothing else.</summary>
    /// <param name="vision">How it would be if nothing were known.</param>
    /// <param name="plan">Its plan.</param>
    public VisionOptions Fit(VisionOptions vision, Plan plan) => Matter(plan)
        ? vision with { Response = plan.Number == Reference && !plan.IsPrinted ? OfPhone : Response, Doubt = Doubt }
        : vision;

    /// <summary>What light from behind shows does not hang on tones, and a mask's greys tell them better.</summary>
    public static bool Matter(Plan plan) => plan is { Process: Process.Engrave, Frame: null };
}
