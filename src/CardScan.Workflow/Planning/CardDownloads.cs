using System.IO.Compression;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>A file to be handed out.</summary>
/// <param name="Name">Its name beside the plan: <c>card.svg</c>.</param>
/// <param name="Bytes">Its content.</param>
public sealed record CardFile(string Name, ReadOnlyMemory<byte> Bytes);

/// <summary>
/// The files of a kept card, made when they are asked for: byte for byte those that <see cref="MakeCard.Run"/> writes beside the
/// same plan.
/// </summary>
public sealed class CardDownloads
{
    private readonly byte[] _planJson;
    private readonly DateTimeOffset _keptUtc;

    private CardDownloads(Plan plan, byte[] planJson, DateTimeOffset keptUtc)
    {
        (Plan, _planJson, _keptUtc) = (plan, planJson, keptUtc);
        if (plan.Burning is not null) Planned = PlannedCard.Of(plan, isByBurnedCard: true, CardPlanner.MachineFileFault(plan));
    }

    /// <summary>The plan.</summary>
    public Plan Plan { get; }

    /// <summary>
    /// What is to be told of it, but for what was told of the energy when it was planned; null where the plan does not say how it is
    /// burned.
    /// </summary>
    public PlannedCard? Planned { get; }

    /// <summary>What whoever burns it must have read, one sentence each.</summary>
    public ValueList<string> Cautions => Planning.Cautions.For(Plan.Machine);

    /// <summary>What is burned, sorted by setting.</summary>
    public ValueList<BurnStep> Steps => CardPlanner.StepsOf(Plan);

    /// <summary>The names of the files that there are, the plan's first.</summary>
    public ValueList<string> Names => CardFiles.Names.Where(IsThere).Prepend(CardFiles.PlanName).ToValueList();

    /// <summary>Finds a card's plan.</summary>
    /// <param name="archive">The archive.</param>
    /// <param name="card">The card's id.</param>
    /// <returns>The files; or why there is no such card.</returns>
    public static Outcome<CardDownloads> Of(ArchivePlace archive, long card)
    {
        ArgumentNullException.ThrowIfNull(archive);
        Outcome<ArchiveView> view = archive.Show(CardEntry.NameOf(card));
        if (view.IsRefused) return view.Refusal!;
        Outcome<byte[]> json = archive.Use(kept => kept.PlanJson(card));
        if (json.IsRefused) return json.Refusal!;
        Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
        return plan.IsRefused ? plan.Refusal! : new CardDownloads(plan.Value.Plan, json.Value, view.Value.Cards[0].Card.KeptUtc);
    }

    private bool IsThere(string name) => CardFiles.Belongs(name, Plan) && name switch
    {
        CardFiles.MachineFileName => Planned?.WithoutMachineFile is null,
        CardFiles.OutlineName => !CardPlanner.WriteOutline(Plan, null).IsRefused,
        _ => true,
    };

    /// <summary>One of the files.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="extras">What is asked of the dry run.</param>
    /// <returns>The file; null where the card has none of that name; or why the machine cannot do it.</returns>
    public Outcome<CardFile?> File(string name, CardExtras? extras = null)
    {
        if (name == CardFiles.PlanName) return new CardFile(name, _planJson);
        if (!CardFiles.Names.Contains(name) || !CardFiles.Belongs(name, Plan)) return (CardFile?)null;
        Outcome<NewFile> file = CardFiles.One(name, Plan, extras ?? new());
        return file.IsRefused ? file.Refusal! : new CardFile(name, file.Value.Bytes);
    }

    /// <summary>All of them in one folder, packed.</summary>
    /// <param name="extras">As for the files on a disk.</param>
    /// <returns>A zip file, the same for the same card; or why the machine cannot point as asked.</returns>
    public Outcome<byte[]> Zip(CardExtras? extras = null)
    {
        Outcome<CardFiles> files = CardFiles.Of(Plan, extras ?? new());
        if (files.IsRefused) return files.Refusal!;
        using MemoryStream packed = new();
        using (ZipArchive zip = new(packed, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (NewFile file in (NewFile[])[new(CardFiles.PlanName, _planJson), .. files.Value.Drawn, .. files.Value.Apart])
            {
                ZipArchiveEntry entry = zip.CreateEntry($"card-{Plan.Number}/{file.Name.Replace('\\', '/')}");
                // A zip knows no year before 1980 and none after 2107.
                entry.LastWriteTime = _keptUtc.Year is > 1980 and < 2107 ? _keptUtc : entry.LastWriteTime;
                using Stream content = entry.Open();
                content.Write(file.Bytes);
            }
        }

        return packed.ToArray();
    }
}
