using CardScan.Model;

namespace CardScan.Web;

/// <summary>The fields that describe a material; each rules over what the material's profile says.</summary>
internal static class MaterialFields
{
    /// <summary>A material with what was typed in place of what it had.</summary>
    /// <returns>The material; or why not, where only half of a marking setting is known.</returns>
    public static Outcome<Material> Over(Material basis, TypedFields typed)
    {
        double? power = typed.Number("mark-power") ?? basis.Mark?.PowerPercent;
        double? speed = typed.Number("mark-speed") ?? basis.Mark?.SpeedMmPerMin;
        if (typed.Fault is null && power is null != speed is null) return Alone(power is null ? "--mark-speed" : "--mark-power");
        return basis with
        {
            ThicknessMm = typed.Number("thickness") ?? basis.ThicknessMm,
            Batch = typed.Text("batch") ?? basis.Batch,
            Mark = power is null || speed is null ? basis.Mark : (basis.Mark ?? new() { PowerPercent = 0, SpeedMmPerMin = 0 }) with
            {
                PowerPercent = power.Value, SpeedMmPerMin = speed.Value,
            },
        };
    }

    /// <summary>The two that belong to every piece.</summary>
    public static XElement[] First(TypedFields typed, Material? known) =>
    [
        Field.Of("thickness", typed.Text("thickness"), known?.ThicknessMm is { } mm ? Voice.Tell(Mm(mm)) : null),
        Field.Of("batch", typed.Text("batch"), known?.Batch),
    ];

    /// <summary>What markers and labels are burned with.</summary>
    public static XElement[] Marks(TypedFields typed, MarkSetting? known) =>
    [
        Field.Told("mark-power", typed.Text("mark-power"), known is null ? null : Voice.Tell(Power(known.PowerPercent))),
        Field.Told("mark-speed", typed.Text("mark-speed"), known is null ? null : Voice.Tell(Speed(known.SpeedMmPerMin))),
    ];

    private static Refusal Alone(string option) => Refusal.OfInput(Codes.PlanValue, ("option", new OptionName(option))) with
    {
        Seen = Voice.Say("option.mark-alone.seen", ("option", new OptionName(option))), Remedy = Voice.Say("option.mark-alone.remedy"),
    };
}
