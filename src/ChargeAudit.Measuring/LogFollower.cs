using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>
/// Follows a log that is still being written: its rows are read once, as they come, in bounded memory. How the log is read was decided from
/// what it held at the beginning, so its figures are provisional while it grows; what counts in the end is
/// <see cref="LogMeasurer.Measure"/> on the whole log.
/// </summary>
public static class LogFollower
{
    /// <summary>Follows a log until it is told to stop.</summary>
    /// <param name="request">The log, in one file, and what is known of it.</param>
    /// <param name="more">
    /// Asked each time that all rows so far have been read. It is given what works out the figures so far, waits as long as it likes and
    /// says whether to go on.
    /// </param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <exception cref="InputException">The log is no file of plain text, cannot be understood from what it holds so far, or was cut
    /// short.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public static void Follow(MeasureRequest request, Func<Func<LogSoFar?>, bool> more, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(more);
        var point = request.Point ?? request.Meter?.Options.Point;
        using var log = LogFile.Open(request.Paths, (request.Meter?.Options ?? new()) with { Point = point });
        string file = request.Paths[0];
        var source = request.Source ?? PowerRule.Choose(file, log.Layout, point);
        CosineDoubt.Check(file, log.Layout, source, request.Meter?.Options ?? new());
        var rules = ZeroLimits.In(SummaryRules.For(log.Layout, source, request.Meter?.Options ?? new()), log.Layout, request.Meter);
        var builder = new LogSummary.Builder(rules);
        var sink = new IntegratingSink(builder);
        bool ended = false;
        try
        {
            log.Follow(ref sink, () => !(ended = !more(() => SoFar(builder, rules, log.Layout, request))), cancellation);
        }
        catch (InputException) when (ended)
        {
            // A row that was still being written, say: the reading of the whole log judges it.
        }
    }

    private static LogSoFar? SoFar(LogSummary.Builder builder, SummaryRules rules, LogLayout layout, MeasureRequest request)
    {
        // A copy is finished; the builder goes on.
        var summary = LogSummary.Builder.Combine(builder, new LogSummary.Builder(rules)).Finish();
        if (summary.Samples < 2 || !(summary.EndS > summary.StartS))
        {
            return null;
        }

        var energies = new EnergyEstimator(summary, layout, request.Meter, request.LogId ?? request.Paths[0], request.Load);
        var finding = LogMeasurer.ModesIn(summary, rules, request.Modes);
        double latestS = Math.Max(summary.StartS, summary.EndS - Math.Max(10, 4 * layout.MedianIntervalS));
        return new LogSoFar
        {
            Layout = layout,
            Rows = summary.Samples,
            EndS = summary.EndS,
            Energy = energies.EnergyWh(double.NegativeInfinity, double.PositiveInfinity),
            LatestPower = energies.MeanPowerW(latestS, summary.EndS, "latest"),
            Modes = finding.Modes,
            Charge = ChargeSoFar.Of(finding.Modes, summary.EndS, request.Modes, energies),
        };
    }
}
