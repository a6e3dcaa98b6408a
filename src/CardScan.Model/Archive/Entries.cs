using CardScan.Language;

namespace CardScan.Model;

/// <summary>A card that was kept.</summary>
/// <param name="Id">Its id; never given twice.</param>
/// <param name="Number">The number in its markers.</param>
/// <param name="IsNew">False where the archive had it already.</param>
public sealed record KeptCard(long Id, int Number, bool IsNew)
{
    /// <summary>Its name in commands: <c>c5</c>.</summary>
    public string Name => CardEntry.NameOf(Id);
}

/// <summary>A reading that was kept.</summary>
/// <param name="Id">Its id; never given twice.</param>
/// <param name="CardId">Its card.</param>
/// <param name="IsNew">False where the archive had the very same reading already.</param>
public sealed record KeptReading(long Id, long CardId, bool IsNew)
{
    /// <summary>Its name in commands: <c>r12</c>.</summary>
    public string Name => ReadingEntry.NameOf(Id);
}

/// <summary>A card in the archive.</summary>
public sealed record CardEntry
{
    /// <summary>Its id.</summary>
    public required long Id { get; init; }

    /// <summary>The number in its markers, 0 to 249.</summary>
    public required int Number { get; init; }

    /// <summary>The maker's words for it.</summary>
    public required string Title { get; init; }

    /// <summary>Engrave or cut.</summary>
    public required Process Process { get; init; }

    /// <summary>Name of its material.</summary>
    public required string Material { get; init; }

    /// <summary>Thickness of its material, mm.</summary>
    public double? ThicknessMm { get; init; }

    /// <summary>The delivery of its material.</summary>
    public string? Batch { get; init; }

    /// <summary>Name of the machine.</summary>
    public required string Machine { get; init; }

    /// <summary>Optical power of the machine at 100 %, W.</summary>
    public required double RatedOpticalWatts { get; init; }

    /// <summary>True for a grey strip, which nothing burns: what is burned has watts.</summary>
    public bool IsPrinted => RatedOpticalWatts == 0;

    /// <summary>When its plan was kept, UTC.</summary>
    public required DateTimeOffset KeptUtc { get; init; }

    /// <summary>When it was closed, UTC: its plan is not looked for any more. Null while it is open.</summary>
    public DateTimeOffset? ClosedUtc { get; init; }

    /// <summary>How many current readings it has: one for each set of photos that no later reading has all of.</summary>
    public required int Readings { get; init; }

    /// <summary>Its newest current reading; null where it has none.</summary>
    public long? NewestReadingId { get; init; }

    /// <summary>When that was read, UTC.</summary>
    public DateTimeOffset? NewestReadUtc { get; init; }

    /// <summary>The recommendations of that reading.</summary>
    public ValueList<RecommendationEntry> Recommendations { get; init; } = [];

    /// <summary>Its own tags, those of its readings and of its batch.</summary>
    public ValueList<string> Tags { get; init; } = [];

    /// <summary>Its name in commands: <c>c5</c>.</summary>
    public string Name => NameOf(Id);

    /// <summary>Its material as lists have it: "birch plywood 3 mm".</summary>
    public Phrase MaterialFigure() => MaterialFigure(Material, ThicknessMm);

    /// <summary>The same of any material.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="thicknessMm">Its thickness, mm; null where it is not known.</param>
    public static Phrase MaterialFigure(string name, double? thicknessMm) => new("terminal.material", Figures.Known(
        ("name", name), ("thickness", thicknessMm is { } mm ? Figures.Mm(mm) : null)));

    /// <summary>The name of a card in commands.</summary>
    /// <param name="id">Its id.</param>
    public static string NameOf(long id) => $"c{id}";
}

/// <summary>A reading in the archive.</summary>
public sealed record ReadingEntry
{
    /// <summary>Its id.</summary>
    public required long Id { get; init; }

    /// <summary>Its card.</summary>
    public required long CardId { get; init; }

    /// <summary>When it was read, UTC.</summary>
    public required DateTimeOffset ReadUtc { get; init; }

    /// <summary>False where a later reading has all of its photos.</summary>
    public required bool IsCurrent { get; init; }

    /// <summary>Its photos, in the reading's order.</summary>
    public required ValueList<PhotoEntry> Photos { get; init; }

    /// <summary>Path of its page; null where none was kept.</summary>
    public string? ReportPath { get; init; }

    /// <summary>Its recommendations.</summary>
    public ValueList<RecommendationEntry> Recommendations { get; init; } = [];

    /// <summary>Its name in commands: <c>r12</c>.</summary>
    public string Name => NameOf(Id);

    /// <summary>The name of a reading in commands.</summary>
    /// <param name="id">Its id.</param>
    public static string NameOf(long id) => $"r{id}";
}

/// <summary>A card that may be scored together with another: its newest current reading.</summary>
/// <param name="CardId">The card.</param>
/// <param name="Number">The number in its markers.</param>
/// <param name="ReadingId">The reading.</param>
/// <param name="FirstReadUtc">When the card was first read, UTC: that stays, however often it is read again.</param>
public sealed record LikeCard(long CardId, int Number, long ReadingId, DateTimeOffset FirstReadUtc)
{
    /// <summary>The reading's name in commands: <c>r12</c>.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);
}

/// <summary>A photo of a reading.</summary>
/// <param name="FileName">Its name when it was read.</param>
/// <param name="Sha256">Fingerprint of its bytes.</param>
/// <param name="Light">Front-lit or back-lit.</param>
/// <param name="Path">Path of the kept file; null where none was kept.</param>
/// <param name="AnnotatedPath">Path of its annotated picture; null where none was kept.</param>
public sealed record PhotoEntry(string FileName, string Sha256, Light Light, string? Path, string? AnnotatedPath);

/// <summary>A recommended setting of a reading: everything that must be entered to repeat it, and what backs it.</summary>
public sealed record RecommendationEntry
{
    /// <summary>One of <see cref="Model.Goal"/>.</summary>
    public required string Goal { get; init; }

    /// <summary>Percent of full power.</summary>
    public required double PowerPercent { get; init; }

    /// <summary>Speed, mm/min.</summary>
    public required double SpeedMmPerMin { get; init; }

    /// <summary>Number of the earlier card that the burned cell stands on; null where it is the reading's own.</summary>
    public int? Card { get; init; }

    /// <summary>Passes of the burned cell that backs it; null where none does.</summary>
    public int? Passes { get; init; }

    /// <summary>Its focus offset, mm, negative below the surface.</summary>
    public double? FocusOffsetMm { get; init; }

    /// <summary>Its line interval, mm; null for cuts.</summary>
    public double? LineIntervalMm { get; init; }

    /// <summary>Why, in words a maker reads.</summary>
    public required string Reason { get; init; }

    /// <summary>As <see cref="Recommendation.Confidence"/>.</summary>
    public double? Confidence { get; init; }

    /// <summary>95 % interval of the figure the goal is judged by.</summary>
    public Interval? Interval { get; init; }

    /// <summary>Everything that must be entered to repeat it, and the earlier card that it stands on.</summary>
    public Figure ToFigure()
    {
        SettingFigure setting = new(SpeedMmPerMin, PowerPercent, Passes ?? 1,
            LineIntervalMm, FocusOffsetMm is { } focus && focus != 0 ? focus : null);
        return Card is { } card ? new Phrase("name.on-card", ("setting", setting), ("card", card)) : setting;
    }
}

/// <summary>A note of a maker.</summary>
/// <param name="On">What it is about: <c>c5</c>, <c>r12</c> or a batch's name.</param>
/// <param name="Text">The note.</param>
/// <param name="WrittenUtc">When it was written, UTC.</param>
public sealed record NoteEntry(string On, string Text, DateTimeOffset WrittenUtc);

/// <summary>What a reading leaves in the archive.</summary>
public sealed record ReadingToKeep
{
    /// <summary>The bytes of the plan's file; its fingerprint is the reading's <see cref="Reading.PlanSha256"/>.</summary>
    public required ReadOnlyMemory<byte> PlanJson { get; init; }

    /// <summary>The reading, with its recommendations.</summary>
    public required Reading Reading { get; init; }

    /// <summary>The photos' bytes, in the order of <see cref="Reading.Photos"/>; none where they are not at hand.</summary>
    public ValueList<ReadOnlyMemory<byte>> Photos { get; init; } = [];

    /// <summary>Annotated pictures, PNG, in the order of the photos; none where there are none.</summary>
    public ValueList<ReadOnlyMemory<byte>> AnnotatedPictures { get; init; } = [];

    /// <summary>The page, UTF-8; empty where there is none.</summary>
    public ReadOnlyMemory<byte> Report { get; init; }

    /// <summary>The task of the queue that this ends; where somebody else has it by now, nothing is kept. Null for no task.</summary>
    public WorkClaim? Claim { get; init; }
}
