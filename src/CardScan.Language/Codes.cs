namespace CardScan.Language;

/// <summary>
/// The codes that files hold and programs may rely on; their sentences stand in <c>Messages.en.json</c>, their
/// list in docs/messages.md.
/// </summary>
#pragma warning disable CS1591 // A code is its own documentation.
public static class Codes
{
    // Refusals: files and folders.
    public const string FileMissing = "file-missing";
    public const string CardUnread = "card-unread";
    public const string FileIsFolder = "file-is-folder";
    public const string FileTooLarge = "file-too-large";
    public const string FileUnreadable = "file-unreadable";
    public const string FolderUnwritable = "folder-unwritable";
    public const string DiskFull = "disk-full";
    public const string LittleRoom = "little-room";
    public const string ProgramDamaged = "program-damaged";
    public const string LibraryUnloadable = "library-unloadable";
    public const string OpenSslMissing = "openssl-missing";
    public const string BrowserMissing = "browser-missing";
    public const string TemporaryUnwritable = "temporary-unwritable";
    public const string OutEmpty = "out-empty";
    public const string OutIsFile = "out-is-file";
    public const string OutForeign = "out-foreign";
    public const string ReportExists = "report-exists";
    public const string PlanExists = "plan-exists";
    public const string NoPhotos = "no-photos";
    public const string PlansSameNumber = "plans-same-number";
    public const string PipeEmpty = "pipe-empty";
    public const string NotAPhoto = "not-a-photo";
    public const string PhotoTwice = "photo-twice";
    public const string PhotoChanged = "photo-changed";

    // Refusals: the page.
    public const string DeliverySize = "delivery-size";
    public const string InboxFull = "inbox-full";
    public const string SittingOver = "sitting-over";
    public const string PortTaken = "port-taken";

    /// <summary>Another process serves the archive's page.</summary>
    public const string ArchiveServed = "archive-served";
    public const string NoPrivateAddress = "no-private-address";
    public const string AddressNotPrivate = "address-not-private";
    public const string ProgramFault = "program-fault";

    // Refusals: the archive.
    public const string ArchiveMissing = "archive-missing";
    public const string ArchiveEmptyName = "archive-empty-name";
    public const string ArchiveLink = "archive-link";
    public const string ArchiveIsFile = "archive-is-file";
    public const string ArchiveForeign = "archive-foreign";
    public const string ArchiveNewer = "archive-newer";
    public const string ArchiveBusy = "archive-busy";
    public const string ArchiveCrowded = "archive-crowded";
    public const string ArchiveUnwritable = "archive-unwritable";
    public const string ArchiveFull = "archive-full";
    public const string ArchiveReadOnly = "archive-read-only";
    public const string ArchiveDamaged = "archive-damaged";
    public const string ArchiveFileDamaged = "archive-file-damaged";
    public const string ArchiveFileGone = "archive-file-gone";
    public const string ArchiveAddress = "archive-address";
    public const string ArchiveAddressPart = "archive-address-part";
    public const string ArchivePassword = "archive-password";
    public const string ArchiveNoFiles = "archive-no-files";
    public const string ArchiveUnreachable = "archive-unreachable";
    public const string ArchiveUntrusted = "archive-untrusted";
    public const string ArchiveLogin = "archive-login";
    public const string ArchiveNoDatabase = "archive-no-database";
    public const string ArchiveEncoding = "archive-encoding";
    public const string ArchiveNoRight = "archive-no-right";
    public const string ArchiveFilesGone = "archive-files-gone";
    public const string ArchiveOtherFiles = "archive-other-files";
    public const string CopyNotEmpty = "copy-not-empty";
    public const string QueueNeedsServer = "queue-needs-server";
    public const string QueueNoSuch = "queue-no-such";
    public const string QueuePhotoGone = "queue-photo-gone";
    public const string QueuePoisoned = "queue-poisoned";
    public const string QueueTakenOver = "queue-taken-over";
    public const string ArchiveNoSuch = "archive-no-such";
    public const string ArchiveWhich = "archive-which";
    public const string CarryNothing = "carry-nothing";
    public const string CarryUnknown = "carry-unknown";
    public const string CarrySeveral = "carry-several";
    public const string CarrySame = "carry-same";
    public const string CarryWavelength = "carry-wavelength";
    public const string ArchiveNoReading = "archive-no-reading";
    public const string ArchiveNoCard = "archive-no-card";
    public const string PhoneUnknown = "phone-unknown";
    public const string HistoryUnknown = "history-unknown";
    public const string HistoryWhich = "history-which";
    public const string ChangeLength = "change-length";
    public const string ChangeFuture = "change-future";
    public const string ChangeUnknown = "change-unknown";
    public const string NoteLength = "note-length";
    public const string TagWord = "tag-word";
    public const string ExportEnding = "export-ending";
    public const string ExportExists = "export-exists";
    public const string ExportUnwritable = "export-unwritable";
    public const string BundleMissing = "bundle-missing";
    public const string BundleForeignName = "bundle-foreign-name";
    public const string BundleBroken = "bundle-broken";
    public const string BundleTooLarge = "bundle-too-large";
    public const string BundleEntries = "bundle-entries";
    public const string BundleNewer = "bundle-newer";
    public const string PruneNothing = "prune-nothing";
    public const string PruneName = "prune-name";
    public const string RenameLength = "rename-length";
    public const string RenameNone = "rename-none";
    public const string RenameSame = "rename-same";
    public const string RenameUnknown = "rename-unknown";
    public const string RenameWhat = "rename-what";
    public const string RenameWhich = "rename-which";
    public const string SheetEmpty = "sheet-empty";
    public const string CardUnknown = "card-unknown";
    public const string PlanNotGiven = "plan-not-given";
    public const string NumbersUsed = "numbers-used";

    // Refusals: plans and readings.
    public const string PlanNotJson = "plan-not-json";
    public const string ReadingNotJson = "reading-not-json";
    public const string PlanOtherKind = "plan-other-kind";
    public const string ReadingOtherKind = "reading-other-kind";
    public const string PlanField = "plan-field";
    public const string ReadingField = "reading-field";
    public const string MachineNotJson = "machine-not-json";
    public const string MaterialNotJson = "material-not-json";
    public const string MachineOtherKind = "machine-other-kind";
    public const string MaterialOtherKind = "material-other-kind";
    public const string MachineField = "machine-field";
    public const string MaterialField = "material-field";
    public const string ProfileMissing = "profile-missing";
    public const string ProfileWhich = "profile-which";
    public const string ProfileForeignOption = "profile-foreign-option";
    public const string ProfileNothing = "profile-nothing";
    public const string PreferencesWrong = "preferences-wrong";
    public const string SpeedUnitWrong = "speed-unit-wrong";
    public const string PlanNoMaterial = "plan-no-material";
    public const string NextOtherMachine = "next-other-machine";
    public const string ProfileExists = "profile-exists";
    public const string PlanRule = "plan-rule";
    public const string ReadingRule = "reading-rule";

    // Refusals: comparing.
    public const string CompareFew = "compare-few";
    public const string CompareOtherProcess = "compare-other-process";
    public const string CompareStrip = "compare-strip";
    public const string CompareSamePhoto = "compare-same-photo";
    public const string ReadingTwice = "reading-twice";
    public const string RepeatsFew = "repeats-few";
    public const string RepeatsFewCells = "repeats-few-cells";
    public const string RepeatsCut = "repeats-cut";
    public const string RepeatsSamePhoto = "repeats-same-photo";
    public const string RepeatsOtherCard = "repeats-other-card";

    // Refusals: scoring cards together.
    public const string CardsUnlike = "cards-unlike";
    public const string CardsSameNumber = "cards-same-number";
    public const string CardsMany = "cards-many";

    // Refusals: planning.
    public const string StartThickness = "start-thickness";
    public const string StartKind = "start-kind";
    public const string StartNoFigure = "start-no-figure";
    public const string StartNotTaken = "start-not-taken";
    public const string StartOutOfReach = "start-out-of-reach";
    public const string PlanRange = "plan-range";
    public const string PlanValue = "plan-value";
    public const string PlanAxes = "plan-axes";
    public const string PlanCells = "plan-cells";
    public const string NextSpeeds = "next-speeds";
    public const string NextNoBasis = "next-no-basis";
    public const string PlanSize = "plan-size";
    public const string MachineWatts = "machine-watts";
    public const string MachineArea = "machine-area";
    public const string FrameSize = "frame-size";
    public const string MachineSpeed = "machine-speed";
    public const string MachineFocus = "machine-focus";
    public const string MachineLines = "machine-lines";
    public const string MachineFileSize = "machine-file-size";
    public const string MachineIncomplete = "machine-incomplete";
    public const string PointerInvisible = "pointer-invisible";
    public const string PlanNoBurning = "plan-no-burning";
    public const string MaterialDangerous = "material-dangerous";
    public const string RiskUnknown = "risk-unknown";

    // Refusals: photos.
    public const string PhotoEmpty = "photo-empty";
    public const string PhotoFormat = "photo-format";
    public const string PhotoSeveral = "photo-several";
    public const string PhotoTooLarge = "photo-too-large";
    public const string PhotoIncomplete = "photo-incomplete";
    public const string EngravedBackLit = "engraved-back-lit";
    public const string NoMarkers = "no-markers";
    public const string MarkersMissing = "markers-missing";
    public const string MarkersUnclear = "markers-unclear";
    public const string MarkersMisplaced = "markers-misplaced";
    public const string Mirrored = "mirrored";
    public const string OtherCard = "other-card";
    public const string TwoCards = "two-cards";
    public const string CardsOverlap = "cards-overlap";
    public const string NotThisPlan = "not-this-plan";
    public const string CellsMisplaced = "cells-misplaced";
    public const string CellsOutside = "cells-outside";
    public const string SheetNegative = "sheet-negative";
    public const string GridNotFound = "grid-not-found";
    public const string GridAmbiguous = "grid-ambiguous";
    public const string GridUpsideDown = "grid-upside-down";
    public const string NoBareMaterial = "no-bare-material";
    public const string TooSmall = "too-small";
    public const string Blurred = "blurred";
    public const string Overexposed = "overexposed";
    public const string NoUsableCell = "no-usable-cell";
    public const string NothingMeasured = "nothing-measured";
    public const string NoLightBehind = "no-light-behind";

    // Warnings of the archive.
    public const string CardAmbiguous = "card-ambiguous";
    public const string NumberTaken = "number-taken";
    public const string EarlierUnread = "earlier-unread";
    public const string MachineDrift = "machine-drift";
    public const string JoinedLeftOut = "joined-left-out";

    // Warnings of a photo.
    public const string GridOrderUnknown = "grid-order-unknown";
    public const string FrontLitCut = "front-lit-cut";
    public const string ThicknessMissing = "thickness-missing";
    public const string MotionBlur = "motion-blur";
    public const string Soft = "soft";
    public const string Tilted = "tilted";
    public const string FewPixels = "few-pixels";
    public const string PoseResidual = "pose-residual";
    public const string GridResidual = "grid-residual";
    public const string PhotosDisagree = "photos-disagree";
    public const string ReferenceMisfit = "reference-misfit";
    public const string SeriesNoCurve = "series-no-curve";
    public const string Veil = "veil";
    public const string UnevenLight = "uneven-light";
    public const string CellsClipped = "cells-clipped";
    public const string CellsCovered = "cells-covered";
    public const string CellsGlare = "cells-glare";
    public const string CellsOutOfFrame = "cells-out-of-frame";
    public const string SidesUnseen = "sides-unseen";
    public const string MarkerMissing = "marker-missing";
    public const string Bowed = "bowed";
    public const string MachinePlay = "machine-play";
    public const string CellsUnevenGround = "cells-uneven-ground";
    public const string LightGradient = "light-gradient";
    public const string LocalTone = "local-tone";
    public const string Soot = "soot";
    public const string Noisy = "noisy";
    public const string Dark = "dark";
    public const string GreysMisfit = "greys-misfit";
    public const string GreysUnmeasured = "greys-unmeasured";
    public const string SheetScale = "sheet-scale";
    public const string FocalLengthAssumed = "focal-length-assumed";
    public const string TabsBurned = "tabs-burned";
    public const string ColourProfileIgnored = "colour-profile-ignored";
    public const string StrayMarker = "stray-marker";

    // Advice.
    public const string NoMark = "no-mark";
    public const string TooFewCells = "too-few-cells";
    public const string NotLevelledOff = "not-levelled-off";
    public const string LevellingUncertain = "levelling-uncertain";
    public const string Saturated = "saturated";
    public const string FewerTones = "fewer-tones";
    public const string NoTones = "no-tones";
    public const string NoLaw = "no-law";
    public const string NoSureFullMark = "no-sure-full-mark";
    public const string WeakensAllOver = "weakens-all-over";
    public const string NoOrder = "no-order";
    public const string HaloLimit = "halo-limit";
    public const string NoStrongestMark = "no-strongest-mark";
    public const string OutlierCells = "outlier-cells";
    public const string PassedOverCells = "passed-over-cells";
    public const string PlaceTrend = "place-trend";
    public const string WeakensAtHighDose = "weakens-at-high-dose";
    public const string FocusFewWidths = "focus-few-widths";
    public const string FocusAtEnd = "focus-at-end";
    public const string FocusFlat = "focus-flat";
    public const string FocusMisfit = "focus-misfit";
    public const string FocusAxesApart = "focus-axes-apart";
    public const string FocusBeamUnknown = "focus-beam-unknown";
    public const string LinesUnresolved = "lines-unresolved";
    public const string LinesUnseen = "lines-unseen";
    public const string NoSidesJudged = "no-sides-judged";
    public const string UnseenCells = "unseen-cells";
    public const string SidesMissing = "sides-missing";
    public const string AllThrough = "all-through";
    public const string NoneThrough = "none-through";
    public const string NoSureCut = "no-sure-cut";
    public const string BridgedSides = "bridged-sides";
    public const string HeldAnyway = "held-anyway";
    public const string ClosesAgain = "closes-again";
    public const string CardsDisagree = "cards-disagree";
    public const string CutOrderReversed = "cut-order-reversed";
    public const string NoCutModel = "no-cut-model";
    public const string FocusUnusual = "focus-unusual";
    public const string StripKnown = "strip-known";
    public const string StripUnknown = "strip-unknown";

    // Hints of planning.
    public const string LaserNotTaken = "laser-not-taken";
    public const string WattsLikeSupply = "watts-like-supply";
    public const string FeedSlow = "feed-slow";
    public const string LeatherTanning = "leather-tanning";
    public const string MaterialTransparent = "material-transparent";
    public const string MaterialMirror = "material-mirror";
    public const string LinesApart = "lines-apart";
    public const string CardLong = "card-long";
    public const string CellsOverdone = "cells-overdone";
    public const string GapNarrow = "gap-narrow";
    public const string BeamSwitch = "beam-switch";
    public const string LineEnds = "line-ends";
    public const string CutThicknessUntold = "cut-thickness-untold";
    public const string RunUpUnknown = "run-up-unknown";
    public const string RunUpShort = "run-up-short";
    public const string CardLarge = "card-large";
    public const string MaterialCaution = "material-caution";
    public const string MaterialDanger = "material-danger";
    public const string MaterialUnknown = "material-unknown";
    public const string FocusInside = "focus-inside";

    // Notes of a comparison.
    public const string CompareNothingMeasured = "compare-nothing-measured";
    public const string CompareNoMark = "compare-no-mark";
    public const string CompareTooFewCells = "compare-too-few-cells";
    public const string CompareNoCurve = "compare-no-curve";
    public const string CompareOtherDirection = "compare-other-direction";
    public const string CompareOtherFocus = "compare-other-focus";
    public const string CompareAllSidesAlike = "compare-all-sides-alike";
    public const string OwnStrength = "own-strength";
    public const string UnlikePhotos = "unlike-photos";
    public const string TonesApart = "tones-apart";
    public const string TonesKnown = "tones-known";
    public const string TonesOneScale = "tones-one-scale";
    public const string OneLight = "one-light";
    public const string OnePlan = "one-plan";
    public const string CauseBatch = "cause-batch";
    public const string CauseMachine = "cause-machine";
    public const string BatchUnnamed = "batch-unnamed";
    public const string OtherMachine = "other-machine";
    public const string OtherMaterial = "other-material";
    public const string AnswerOwn = "answer-own";
    public const string AnswerKept = "answer-kept";
    public const string AnswerCarried = "answer-carried";
    public const string AnswerNone = "answer-none";
    public const string AnswerAgree = "answer-agree";
    public const string AnswerTrustOwn = "answer-trust-own";
    public const string AnswerTrustKept = "answer-trust-kept";
    public const string AnswerOwnUnsure = "answer-own-unsure";
    public const string AnswerOwnDoubted = "answer-own-doubted";
    public const string AnswerOfferUnsure = "answer-offer-unsure";
    public const string AnswerDoubt = "answer-doubt";
    public const string OtherAir = "other-air";
    public const string PairEqual = "pair-equal";
    public const string PairDifferent = "pair-different";
    public const string PairChange = "pair-change";
    public const string PairNoSetting = "pair-no-setting";
    public const string PairBeyondCards = "pair-beyond-cards";
    public const string PairUnclear = "pair-unclear";
    public const string PairUnbounded = "pair-unbounded";
    public const string PairOtherShape = "pair-other-shape";
    public const string PairObstacle = "pair-obstacle";
    public const string ChartDrift = "chart-drift";
    public const string ChartOutside = "chart-outside";
    public const string ChartWithin = "chart-within";
    public const string ChartCause = "chart-cause";
    public const string ChartRough = "chart-rough";

    // Next card.
    public const string NextCentred = "next-centred";
    public const string NextBlind = "next-blind";
    public const string NextLearns = "next-learns";
    public const string NextPassedOver = "next-passed-over";
    public const string NextLearnsLittle = "next-learns-little";
    public const string NextLessDose = "next-less-dose";
    public const string NextMoreDose = "next-more-dose";
    public const string NextMorePasses = "next-more-passes";

    // Reasons of a recommendation.
    public const string FullMarkChosen = "full-mark-chosen";
    public const string FullMarkGamble = "full-mark-gamble";
    public const string FullMarkNextFaster = "full-mark-next-faster";
    public const string FullMarkFastest = "full-mark-fastest";
    public const string FullMarkAlike = "full-mark-alike";
    public const string FullMarkMargin = "full-mark-margin";
    public const string UntestedFaster = "untested-faster";
    public const string DarkestShort = "darkest-short";
    public const string DarkestChosen = "darkest-chosen";
    public const string DarkestHalo = "darkest-halo";
    public const string DarkestHaloUnmeasured = "darkest-halo-unmeasured";
    public const string DarkestPassedOver = "darkest-passed-over";
    public const string SureCutChosen = "sure-cut-chosen";
    public const string CleanCutChosen = "clean-cut-chosen";
    public const string CutByEnergy = "cut-by-energy";
    public const string CutCellsFree = "cut-cells-free";
    public const string CutCellsHeld = "cut-cells-held";
    public const string CutComesFree = "cut-comes-free";
    public const string CutCountOn = "cut-count-on";
    public const string SureCutMargin = "sure-cut-margin";
    public const string SureCutFaster = "sure-cut-faster";
    public const string SureCutOneCell = "sure-cut-one-cell";
    public const string UntestedFasterCut = "untested-faster-cut";
}
