namespace CardScan.Model;

/// <summary>A setting of one machine, carried over to another that did not burn it: a first try, and never a sure setting.</summary>
/// <param name="Goal">One of <see cref="Model.Goal"/>.</param>
/// <param name="SpeedMmPerMin">Speed to try first, mm/min.</param>
/// <param name="PowerPercent">Percent of full power.</param>
/// <param name="Speed">
/// The speed that a best estimate has at the old power, with its 95 % interval on a sheet of any delivery, mm/min.
/// </param>
/// <param name="SameDelivery">The same on a sheet of the delivery that the old card was cut from.</param>
public sealed record CarriedSetting(string Goal, double SpeedMmPerMin, double PowerPercent, Interval Speed, Interval SameDelivery);
