using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Measures a log of which nothing is known, and keeps what a draft decides by.</summary>
public static class LogLook
{
    /// <summary>Waiting shorter than this shows nothing. [s]</summary>
    private const double LeastWaitingS = 180;

    /// <summary>Pulses lower than this are not told from a meter's steps. [W]</summary>
    private const double LeastPulseW = 0.05;

    /// <summary>The part of a charge that shows where it ends. [1]</summary>
    private const double LastShare = 0.05;

    /// <summary>A faint charge lasts at least this long. [s]</summary>
    private const double LeastFaintS = 600;

    /// <summary>A faint charge draws at least this many times what the rest of its log does. [1]</summary>
    private const double FaintFactor = 2.5;

    /// <summary>Cells kept of each log: enough to see its steps, few enough to keep hundreds of logs.</summary>
    private const int KeptCells = 1 << 13;

    /// <summary>Looks at a log.</summary>
    /// <param name="folder">The folder that names start from.</param>
    /// <param name="files">Files of the log in the order of time, relative to the folder.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">The file is not a log, or gives no energy.</exception>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    public static LogFacts Of(string folder, IReadOnlyList<string> files, LogOptions? told = null,
        CancellationToken cancellation = default) =>
        Of([.. files.Select(f => Path.Combine(folder, f))], files, told, cancellation);

    /// <summary>Looks at a log whose files bear other names on disk than for people.</summary>
    /// <param name="paths">Paths that can be opened, in the order of time.</param>
    /// <param name="files">Names for people, one a path; what their words say counts.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">The file is not a log, or gives no energy.</exception>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    public static LogFacts Of(IReadOnlyList<string> paths, IReadOnlyList<string> files, LogOptions? told = null,
        CancellationToken cancellation = default)
    {
        try
        {
            return Measured(paths, files, null, told, cancellation);
        }
        catch (InputException refused)
        {
            // A date that may be read two ways is the one thing that trying can settle for a first draft.
            foreach (var order in new[] { DateOrder.DayFirst, DateOrder.MonthFirst })
            {
                try
                {
                    return Measured(paths, files, order, told, cancellation);
                }
                catch (InputException)
                {
                    // The first refusal is the one that says what is wrong.
                }
            }

            throw new InputException(refused.Problem, refused.Message, refused)
            {
                Remedy = refused.Remedy,
                RemedyValue = refused.RemedyValue,
            };
        }
    }

    private static LogFacts Measured(IReadOnlyList<string> paths, IReadOnlyList<string> files, DateOrder? order, LogOptions? told,
        CancellationToken cancellation)
    {
        var measured = Measure(paths, files, order, told, LogPurpose.Unknown, cancellation);
        var charges = Charges(measured);
        if (charges.Count > 1)
        {
            // The audit numbers the charges of a log that is known to hold some; so must the draft.
            measured = Measure(paths, files, order, told, LogPurpose.Charge, cancellation);
            charges = Charges(measured);
        }

        bool faint = false;
        if (charges.Count == 0 && NameWords.Of(files[0]).WaitingWord is null)
        {
            // A small device may take less than a waiting pad; where it is not stated that the charger waits, a charge is looked for
            // however little it draws.
            var searched = Measure(paths, files, order, told, LogPurpose.Charge, cancellation);
            faint = StandsOut(searched.Result);
            measured = faint ? searched : measured;
            charges = faint ? Charges(searched) : charges;
        }

        var log = measured.Result;
        return new LogFacts
        {
            Files = files,
            Quantities = log.Layout.Columns.Select(c => c.Quantity).ToHashSet(),
            Format = log.Layout.Format,
            Dialect = DialectOf(log.Layout),
            MeanVoltageV = MeanVoltageV(log),
            Start = log.Layout.Start,
            ClockOfDayS = log.Layout.ClockOfDayS,
            Told = told,
            StartIsLocal = log.Layout.StartIsLocal,
            DurationS = log.DurationS,
            IntervalS = log.Layout.MedianIntervalS,
            Charges = charges,
            Faint = faint,
            Waiting = WaitingOf(measured),
            Envelope = log.Envelope.Reduced(KeptCells),
            GuessedDateOrder = order,
            Origin = LogOrigin.Of(log, paths),
        };
    }

    private static MeasuredLog Measure(
        IReadOnlyList<string> paths, IReadOnlyList<string> files, DateOrder? order, LogOptions? told, LogPurpose purpose,
            CancellationToken cancellation) =>
        LogMeasurer.Measure(
            new MeasureRequest
            {
                Paths = paths,
                Names = files,
                Meter = new Meter { Name = "draft", Options = (told ?? new LogOptions()) with { DateOrder = order ?? told?.DateOrder } },
                Modes = new ModeOptions { Purpose = purpose },
            },
            null,
            cancellation);

    private static bool StandsOut(LogMeasurement log)
    {
        var charges = log.Modes.Where(m => m.Span.Mode == Mode.Charge).ToList();
        var rest = log.Modes.Where(m => m.Span.Mode != Mode.Charge).ToList();
        double restS = rest.Sum(m => m.Span.DurationS);
        double chargeS = charges.Sum(m => m.Span.DurationS);
        return restS >= LeastWaitingS && chargeS >= LeastFaintS
            && charges.Sum(m => m.Energy.Value) / chargeS >= FaintFactor * rest.Sum(m => m.Energy.Value) / restS;
    }

    private static List<ChargeFacts> Charges(MeasuredLog measured)
    {
        var all = measured.Result.Modes.Where(m => m.Span.Mode == Mode.Charge).ToList();
        double least = all.Count > 0 ? FalseStart.LargestShare * all.Max(m => m.Energy.Value) : 0;
        var charges = new List<ChargeFacts>();
        for (int i = 0; i < all.Count; i++)
        {
            if (all[i].Energy.Value >= least)
            {
                var span = all[i].Span;
                charges.Add(new ChargeFacts(i + 1, span.StartS, span.EndS, all[i].Energy.Value, EndShare(measured, span)));
            }
        }

        return charges;
    }

    private static double EndShare(MeasuredLog measured, ModeSpan span)
    {
        double from = span.EndS - (LastShare * span.DurationS);
        double end = measured.Result.Envelope.EnergyBetweenJ(from, span.EndS) / (span.EndS - from);
        return measured.Finding.Thresholds.PlateauW > 0 ? end / measured.Finding.Thresholds.PlateauW : 0;
    }

    private static WaitingFacts? WaitingOf(MeasuredLog measured)
    {
        var log = measured.Result;
        var longest = log.Modes.Where(m => m.Span.Mode == Mode.NoLoad).MaxBy(m => m.Span.DurationS);
        if (longest?.MeanPower.Value is not { } power || longest.Span.DurationS < LeastWaitingS)
        {
            return null;
        }

        double[] readings = [.. StandbySamples.Of(log.Envelope, longest.Span.StartS, longest.Span.EndS, log.Layout.Samples, null).PowerW];
        return new WaitingFacts(power.Value, readings.Length < 12 ? 0 : PulseHeightW(readings), longest.Span.DurationS);
    }

    // One spike is not a pulse train: the height must be reached several times.
    private static double PulseHeightW(double[] power)
    {
        if (PulsePeriod.ReadingsAPulse(power) <= 0)
        {
            return 0;
        }

        var sorted = power.ToArray();
        double median = HighMedian.Of(sorted);
        double level = 0.5 * (median + sorted[^1]);
        int pulses = 0;
        for (int i = 1; i < power.Length; i++)
        {
            pulses += power[i] > level && power[i - 1] <= level ? 1 : 0;
        }

        return pulses >= 4 && sorted[^1] - median >= LeastPulseW ? sorted[^1] : 0;
    }

    private static double? MeanVoltageV(LogMeasurement log)
    {
        if (!log.Layout.Has(LogQuantity.Voltage))
        {
            return null;
        }

        double voltSeconds = 0, covered = 0;
        for (int i = 0; i < log.Envelope.Count; i++)
        {
            voltSeconds += log.Envelope[i].VoltSeconds.Value;
            covered += log.Envelope[i].CoveredS.Value;
        }

        return covered > 0 && voltSeconds > 0 ? voltSeconds / covered : null;
    }

    private static string DialectOf(LogLayout layout)
    {
        string columns = string.Join('|', layout.Columns.Select(c => $"{c.Header}:{c.Quantity}:{c.Unit}"));
        return InvariantText.Of($"{layout.Format} {layout.Dialect?.Separator} {layout.Dialect?.DecimalSeparator} {columns}");
    }
}
