using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>What to doubt about modes once they are found, as sentences.</summary>
internal static class ModeDoubts
{
    /// <summary>Waiting after a charge is worth a word from this length on. [s]</summary>
    private const double LeastTakenOffS = 60;

    public static IEnumerable<Doubt> Of(PowerEnvelope envelope, IReadOnlyList<ModeSpan> modes, ModeThresholds levels, double intervalS,
        double meterZeroW)
    {
        bool hasCharge = modes.Any(m => m.Mode == Mode.Charge);
        double idle = modes.Where(m => m.Mode != Mode.Charge).Select(m => envelope.EnergyBetweenJ(m.StartS, m.EndS) / m.DurationS)
            .DefaultIfEmpty(double.PositiveInfinity).Max();
        if (levels.StepW > 0 && double.IsFinite(idle) && idle < levels.StepW)
        {
            double hours = modes.Where(m => m.Mode != Mode.Charge).Sum(m => envelope.CoveredBetweenS(m.StartS, m.EndS)) / 3600;
            double energyWh = modes.Where(m => m.Mode != Mode.Charge).Sum(m => envelope.EnergyBetweenJ(m.StartS, m.EndS)) / 3600;

            // A reading may be cut off or rounded: it is off by up to a step, and by the same amount for as long as it stays on one.
            yield return Prose.Of(
                $"The readings come in steps of {levels.StepW:G3} W and the power outside charges is {idle:G3} W: the meter's step, not "
                + $"the charger, sets that figure. The energy outside charges, {energyWh:F2} Wh, lies anywhere from "
                + $"{Math.Max(0, energyWh - (levels.StepW * hours)):F2} to {energyWh + (levels.StepW * hours):F2} Wh, and off, waiting and "
                + $"full cannot be told apart by it.");
        }

        if (hasCharge && levels.NoLoadW is { } noLoad && levels.MaintenanceW is { } maintenance
            && Math.Abs(noLoad - maintenance) < Math.Max(0.15 * noLoad, 3 * levels.NoiseW))
        {
            yield return Prose.Of(
                $"The charger draws about the same with a full device ({maintenance:G3} W) and with none ({noLoad:G3} W), so power does "
                    + $"not show when the device was taken off.");
        }

        int last = modes.ToList().FindLastIndex(m => m.Mode == Mode.Charge);
        if (hasCharge && levels.MaintenanceW is null && levels.NoLoadW > levels.OffBelowW && last + 1 < modes.Count
            && modes[last + 1].Mode == Mode.NoLoad && modes[last + 1].DurationS >= LeastTakenOffS)
        {
            yield return new Doubt(Gravity.Wide, Prose.Of(
                $"From the end of the charge at {modes[last].EndS:F0} s no more is drawn than by the waiting charger: the device was "
                + $"taken off, or adds nothing when it is full. This log gives no power when full."));
        }

        if (hasCharge && modes[0].Mode == Mode.Charge)
        {
            yield return "The log starts while the device charges: what was charged before is missing.";
        }

        if (hasCharge && modes[^1].Mode == Mode.Charge)
        {
            yield return "The log ends while the device charges, or just when the charge is over: it shows nothing of the full device, "
                + "and the charge may be cut short.";
        }

        foreach (var charge in modes.Where(m => m.Mode == Mode.Charge && m.DurationS < 30 * intervalS))
        {
            yield return new Doubt(Gravity.Wide, Prose.Of(
                $"The charge from {charge.StartS:F0} s to {charge.EndS:F0} s holds fewer than 30 readings: its borders are uncertain by a "
                + $"large part of it."));
        }

        double least = double.PositiveInfinity;
        for (int i = 0; i < envelope.Count; i++)
        {
            least = envelope[i].CoveredS.Value > 0 ? Math.Min(least, envelope[i].MeanPowerW) : least;
        }

        if (least < -Math.Max(meterZeroW, Math.Max(6 * levels.NoiseW, 0.01 * levels.PlateauW)))
        {
            yield return Prose.Of(
                $"Power falls to {least:G3} W: energy flows back, so the device discharges at times or the meter is connected the other "
                + $"way round.");
        }
    }
}
