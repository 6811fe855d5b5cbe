using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// The adapter of a method that was measured at usb alone, fitted from charges of the same study that were measured at wall and usb. Their
/// efficiency over a charge is carried over to this method's load by the fitted curve, and only within the loads and the output voltage
/// that the curve has seen.
/// </summary>
internal static class AdapterFitter
{
    /// <summary>Windows of the fit are means over a minute, so what is left of noise is small; it only weighs the points. [W]</summary>
    private const double NoiseW = 0.005;

    /// <summary>The adapter; null where nothing that was measured shows it.</summary>
    /// <param name="methods">All methods as they were measured.</param>
    /// <param name="method">The method that needs one.</param>
    public static Adapter? For(IReadOnlyList<MethodResult> methods, MethodResult method)
    {
        var donors = method.Points.ContainsKey(MeasuringPoint.Wall) ? [] : methods.SelectMany(m => m.Runs)
            .Where(r => r.Excluded is null && r.Points.ContainsKey(MeasuringPoint.Wall) && r.Points.ContainsKey(MeasuringPoint.Usb))
            .ToList();

        // Without a donor there is nothing to fit, and no need to look at the logs again.
        if (donors.Count == 0 || LoadOf(method.Runs) is not { } load || LoadOf(donors) is not { } seen)
        {
            return null;
        }

        var curve =
            AdapterCurve.Fit([.. donors.SelectMany(Points)], NoiseW, NoiseW).Curves.FirstOrDefault(c => SameVoltage(c.OutV, load.Volt));
        if (curve?.EfficiencyAt(load.PowerW).Value is not { } here || curve.EfficiencyAt(seen.PowerW).Value is not { } there)
        {
            return null;
        }

        var whole =
            Repeatability.Combine(
                [.. donors.Select(r => Measured.Quotient(r.Points[MeasuringPoint.Usb].Energy, r.Points[MeasuringPoint.Wall].Energy))],
                new InfluenceSource("efficiency-repeatability")
                {
                    Owner = SourceOwner.Adapter,
                    OwnerName = "fitted",
                    Kind = SourceKind.Repeatability
                }).Mean;
        var efficiency = Measured.Product(whole, Measured.Quotient(here, there), "1");
        return efficiency.Value is > 0 and <= 1 ? Adapter.Fitted(efficiency, NoLoadOf(methods)) : null;
    }

    /// <summary>With a cable and no device, only the adapter draws power.</summary>
    private static Measured? NoLoadOf(IReadOnlyList<MethodResult> methods) => methods
        .Where(m => m.Kind == MethodKind.Wired && m.Points.ContainsKey(MeasuringPoint.Wall))
        .Select(m => m.Points[MeasuringPoint.Wall].NoLoadPower)
        .FirstOrDefault(f => f is { Value: not null, Assumed: null })?.Value;

    // Where neither log held a voltage, nothing speaks against the two being the same.
    private static bool SameVoltage(double a, double b) => a > 0 && b > 0 ? Math.Abs(a - b) <= 0.1 * a : !(a > 0) && !(b > 0);

    private static IReadOnlyList<LoadPoint> Points(RunResult run)
    {
        var (wall, usb) = (run.Points[MeasuringPoint.Wall], run.Points[MeasuringPoint.Usb]);
        return ClockAligner.Find(wall.Log.Envelope, usb.Log.Envelope).Alignment is { } clocks
            ? LoadPoints.Of(wall.Log.Envelope, usb.Log.Envelope, clocks, wall.Charge.StartS, wall.Charge.EndS)
            : [];
    }

    /// <summary>Mean power and voltage at usb over the charges; zero volts where none were logged.</summary>
    private static (double PowerW, double Volt)? LoadOf(IReadOnlyList<RunResult> runs)
    {
        var at = runs.Where(r => r.Excluded is null && r.Points.ContainsKey(MeasuringPoint.Usb)).Select(r => r.Points[MeasuringPoint.Usb])
            .ToList();
        double seconds = at.Sum(p => p.Charge.EndS - p.Charge.StartS);
        return seconds > 0
            ? (at.Sum(p => p.Energy.Value) * 3600 / seconds, at.Sum(p => p.Log.Envelope.VoltSecondsBetween(p.Charge.StartS, p.Charge.EndS))
                / seconds)
            : null;
    }
}
