using System.Text.Json.Serialization;
using CardScan.Language;
namespace CardScan.Model;

/// <summary>Where the light of a photo came from.</summary>
public enum Light
{
    /// <summary>An ordinary photo.</summary>
    Front,

    /// <summary>A lamp or light pad behind the card.</summary>
    Back,
}

/// <summary>What is known of one photo.</summary>
public sealed record PhotoRecord : Extensible
{
    /// <summary>File name, without folders.</summary>
    public required string File { get; init; }

    /// <summary>SHA-256 of the file's bytes, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

    /// <summary>When it was taken, by the camera's own clock, of no stated time zone; absent where the file does not say.</summary>
    public DateTime? Taken { get; init; }

    /// <summary>Front-lit or back-lit.</summary>
    public required Light Light { get; init; }

    /// <summary>Width of the upright picture, px.</summary>
    public required int WidthPx { get; init; }

    /// <summary>Height of the upright picture, px.</summary>
    public required int HeightPx { get; init; }

    /// <summary>Scale at the card's centre: geometric mean over x and y, px/mm.</summary>
    public double? PxPerMm { get; init; }

    /// <summary>Angle between the optical axis and the card's normal, degrees.</summary>
    public double? TiltDeg { get; init; }

    /// <summary>RMS distance of the markers' corners from the fitted pose, px.</summary>
    public double? ReprojectionRmsPx { get; init; }

    /// <summary>
    /// How far the card is bowed; absent where the photo does not tell: cells without clear edges, no focal length, a cut
    /// card, a focus ladder or a frame sheet.
    /// </summary>
    public CardBow? Bow { get; init; }

    /// <summary>How good the photo is; thresholds and methods in docs/method/photo-check.md.</summary>
    public PhotoQuality? Quality { get; init; }

    /// <summary>The phone that took it; absent where the file does not say.</summary>
    public PhotoCamera? Camera { get; init; }

    /// <summary>How long and wide it was exposed; absent where the file does not say.</summary>
    public PhotoExposure? Exposure { get; init; }

    /// <summary>The phone's tone curve, undone in what was measured; absent where it is not known.</summary>
    public PhotoResponse? Response { get; init; }

    /// <summary>What the frame sheet around the piece told; absent where the card carries its own markers.</summary>
    public FrameReading? Frame { get; init; }

    /// <summary>What is doubtful about this photo.</summary>
    public ValueList<Warning> Warnings { get; init => field = value ?? []; } = [];
}

/// <summary>The phone that took a photo, by what the file says of it (Exif 2.32, CIPA DC-008).</summary>
public sealed record PhotoCamera : Extensible
{
    /// <summary>Who made it.</summary>
    public string? Make { get; init; }

    /// <summary>Which one it is.</summary>
    public string? Model { get; init; }

    /// <summary>Its lens.</summary>
    public string? Lens { get; init; }

    /// <summary>The program that made the picture.</summary>
    public string? Software { get; init; }

    /// <summary>Who made it and which one it is, as far as the file says.</summary>
    [JsonIgnore]
    public string Name => string.Join(' ', new[] { Make, Model }.Where(word => word is not null));
}

/// <summary>How a photo was exposed.</summary>
/// <param name="TimeS">Exposure time, s.</param>
/// <param name="FNumber">Focal length over aperture.</param>
/// <param name="Iso">Sensitivity (ISO 12232).</param>
public sealed record PhotoExposure(double TimeS, double FNumber, double Iso) : Extensible
{
    /// <summary>Natural log of the exposure, which the light of a scene is multiplied by; only differences have a meaning.</summary>
    [JsonIgnore]
    public double Ln => Math.Log(TimeS * Iso / (FNumber * FNumber));
}

/// <summary>A phone's tone curve, and where it is known from.</summary>
/// <param name="Source">One of the constants of this type.</param>
/// <param name="Terms">θ of ln light = ln (sRGB's light of the code) + Σ θₙ Pₙ(2 code − 1), Legendre polynomials from degree 1.</param>
public sealed record PhotoResponse(string Source, ValueList<double> Terms) : Extensible
{
    /// <summary>Photos of the same card in different brightness told it.</summary>
    public const string Series = "series";

    /// <summary>Earlier series of the same phone let expect it.</summary>
    public const string Phone = "phone";

    /// <summary>Another card in the photo told it, whose darkness was known: by a series, or as an earlier photo showed it.</summary>
    public const string Card = "card";

    /// <summary>There is none: the file is raw, light as the sensor saw it. It has no terms.</summary>
    public const string Raw = "raw";

    /// <summary>
    /// True where darkness is known by it as it is; false where other photos of its phone let expect the curve, and where it only brings
    /// tones to those of another photo.
    /// </summary>
    [JsonIgnore]
    public bool IsMeasured => Source != Phone && Scale is not { IsKnown: false };

    /// <summary>
    /// Covariance of the terms, its lower triangle row by row: how far the curve may be off. Empty in readings that were made before it
    /// was kept.
    /// </summary>
    public ValueList<double> Covariance { get; init => field = value ?? []; } = [];

    /// <summary>How many series of the phone it rests on, where its source is <see cref="Phone"/>.</summary>
    public int? SeriesCount { get; init; }

    /// <summary>Number of the card that told it, where its source is <see cref="Card"/>.</summary>
    public int? CardNumber { get; init; }

    /// <summary>What the darkness of the card that told it is known by; absent where no card did.</summary>
    public PhotoScale? Scale { get; init; }
}

/// <summary>
/// What the tones of a photo were brought to: all that were brought to one scale can be compared, whatever is wrong with that itself.
/// </summary>
/// <param name="PhotoSha256">Fingerprint of the photo that the scale begins with: of a series its first one.</param>
/// <param name="Error">By which share a usual mark may be off against the scale, standard error.</param>
/// <param name="OwnError">By which share the scale itself may be off, standard error.</param>
/// <param name="IsKnown">
/// True where a series told it, so that darkness is known as it is; false where it is a single photo's, the first of a grey strip.
/// </param>
public sealed record PhotoScale(string PhotoSha256, double Error, double OwnError, bool IsKnown) : Extensible;

/// <summary>How far a card is bowed, by the places of its cells against those of its markers: docs/method/vision.md, "Bow".</summary>
/// <remarks>
/// Seen right from above, a bow moves little, and its standard error is large: then the figures say that nothing is known.
/// </remarks>
public sealed record CardBow : Extensible
{
    /// <summary>
    /// How far the card's middle stands over the line between its left and right edges, towards the camera, mm; negative is
    /// away from it.
    /// </summary>
    public required Measured RiseXMm { get; init; }

    /// <summary>How far it stands over the line between its upper and lower edges, mm.</summary>
    public required Measured RiseYMm { get; init; }

    /// <summary>
    /// True where the bow is certain and cells were looked for where it puts them; false where they were looked for on a
    /// flat card.
    /// </summary>
    public required bool IsCorrected { get; init; }
}

/// <summary>Figures of a photo's quality; what needs front light is absent for a back-lit one.</summary>
public sealed record PhotoQuality : Extensible
{
    /// <summary>
    /// Standard error, relative, that the darkness of all cells of a photo shares: phones bend tones, and one photo of a
    /// card cannot tell by how much. It stretches or shrinks all darkness alike, so it hardly moves ranks; it does not
    /// shrink with the number of cells. See docs/method/photo-check.md.
    /// </summary>
    public const double UsualDarknessScaleError = 0.15;

    /// <summary>Sharpness across the card's x: spatial frequency at which half of the contrast is left, cycles/mm.</summary>
    public double? Mtf50AcrossXPerMm { get; init; }

    /// <summary>The same across the card's y, cycles/mm.</summary>
    public double? Mtf50AcrossYPerMm { get; init; }

    /// <summary>Luminance of bare material in the card's middle, linear, 1 at the top of the photo's scale.</summary>
    public double? BareLuminance { get; init; }

    /// <summary>Share of the bare material at the top of the photo's scale, 0 to 1.</summary>
    public double? ClippedShare { get; init; }

    /// <summary>Standard deviation from pixel to pixel on bare material, relative to its luminance; fine grain included.</summary>
    public double? Noise { get; init; }

    /// <summary>Brightest over darkest light on the bare card, by the smooth light field; 1 is even.</summary>
    public double? LightRange { get; init; }

    /// <summary>Share of the strips between the cells that are brighter than the smooth light field explains, 0 to 1.</summary>
    public double? GlareShare { get; init; }

    /// <summary>Share of those strips that are darker than it explains, 0 to 1.</summary>
    public double? ShadowShare { get; init; }

    /// <summary>
    /// How far the bare material beside a cell is lifted for each unit of that cell's darkness; far from 0 where the phone
    /// tones places apart.
    /// </summary>
    public Measured? LocalTone { get; init; }

    /// <summary>
    /// Reflection density of the markers' burned modules against the bare material's light, the mean of those seen with its error
    /// by their scatter; negative where burning makes the material lighter.
    /// </summary>
    public Measured? MarkerDarkness { get; init; }

    /// <summary>Relative standard error that the darkness of all cells of this photo shares.</summary>
    public double? DarknessScaleError { get; init; }
}

/// <summary>Something doubtful, kept with the reading.</summary>
public sealed record Warning : Remark
{
    /// <param name="code">Listed in docs/messages.md.</param>
    /// <param name="values">The figures of its sentence.</param>
    public Warning(string code, params IEnumerable<(string Name, Figure Value)> values) : base(code, values) { }

    /// <summary>A warning of a file.</summary>
    [JsonConstructor]
    public Warning(string code, string message, ValueMap<Figure>? values = null) : base(code, message, values) { }
}
