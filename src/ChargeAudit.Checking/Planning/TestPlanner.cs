using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking.Planning;

/// <summary>What is known before a test.</summary>
public sealed record PlanRequest
{
    /// <summary>What the test must do.</summary>
    public required RunsAim Aim { get; init; }

    /// <summary>Expected scatter of a single run, as a share; null where <see cref="Seen"/> says it. [1]</summary>
    public double? Repeatability { get; init; }

    /// <summary>How much blocks of runs (days, set-ups) differ beyond <see cref="Repeatability"/>, which is then that within a block, as a
    /// share; null: blocks do not differ, or are not allowed for. [1]</summary>
    public double? BetweenBlocks { get; init; }

    /// <summary>Scatter seen in an earlier audit.</summary>
    public IReadOnlyList<SeenRepeatability> Seen { get; init; } = [];

    /// <summary>Accuracy of the meter's power; null: not known.</summary>
    public MeterAccuracy? Accuracy { get; init; }

    /// <summary>Step of its power readings; zero: fine. [W]</summary>
    public double StepW { get; init; }

    /// <summary>Mean power over a charge; null: not known, or seen. [W]</summary>
    public double? ChargePowerW { get; init; }

    /// <summary>Length of a charge; null: not known, or seen. [s]</summary>
    public double? ChargeDurationS { get; init; }

    /// <summary>Interval between readings. [s]</summary>
    public double IntervalS { get; init; } = 1;

    /// <summary>What a reading stands for.</summary>
    public SampleKind Samples { get; init; } = SampleKind.Instantaneous;

    /// <summary>Expected stand-by power; null: no plan for it. [W]</summary>
    public double? StandbyPowerW { get; init; }

    /// <summary>How well it must be known, to either side at 95 %, as a share. [1]</summary>
    public double StandbyWithin { get; init; } = 0.05;

    /// <summary>Pulses of a waiting charger; null: none expected.</summary>
    public PulseTrain? Pulses { get; init; }
}

/// <summary>Plans a test that can answer.</summary>
public static class TestPlanner
{
    private static readonly int[] RunsInBlock = [1, 2, 5];

    /// <summary>Confidence of the cautious number of runs where the scatter was seen in few. [1]</summary>
    public const double Caution = 0.8;

    /// <summary>Makes the plan.</summary>
    /// <param name="request">What is known.</param>
    /// <exception cref="InputException">Something needed is not given.</exception>
    public static TestPlan Make(PlanRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if ((request.Accuracy is not null || request.StepW > 0) && request.ChargePowerW is null && request.Seen.Count == 0)
        {
            throw Lacks("how much a meter's fixed error and its step weigh depends on the power of a charge; give that power",
                Remedy.ChargePower);
        }

        if (request.Accuracy is { Resolution: null } stated && request.StepW == 0 && stated.Clauses.Any(c => c.Digits > 0))
        {
            throw Lacks($"the accuracy \"{stated}\" counts in digits; give the step of the readings", Remedy.Step);
        }

        var runs = new List<RunsNeeded>();
        if (request.BetweenBlocks is { } between)
        {
            double within = request.Repeatability ?? throw Lacks(
                "how much blocks differ counts only together with how much runs differ within one; give that too", Remedy.Repeatability);
            foreach (int each in RunsInBlock)
            {
                double ofBlock = Math.Sqrt((between * between) + (within * within / each));
                runs.Add(Needed(request, InvariantText.Of($"blocks (days, set-ups), {each} {(each == 1 ? "run" : "runs")} in each"),
                    ofBlock,
                    request.ChargePowerW) with
                { RunsInBlock = each });
            }
        }
        else if (request.Repeatability is { } given)
        {
            runs.Add(Needed(request, "the scatter given", given, request.ChargePowerW));
        }

        foreach (var seen in request.Seen)
        {
            string name = $"{seen.Method} {PlainWords.At(seen.Point)}";
            runs.Add(Needed(request, InvariantText.Of($"{name}, scatter as seen in {seen.Runs} {Counted(seen)}"), seen.Scatter,
                seen.MeanPowerW));
            runs.Add(Needed(
                request, Prose.Of($"{name}, cautious: true scatter below this with {100 * Caution:0} %"),
                RunsPlanner.UpperScatter(seen.Scatter, seen.Runs - 1, Caution), seen.MeanPowerW));
        }

        if (runs.Count == 0)
        {
            throw Lacks(
                "nothing says how much one run differs from the next; give that scatter, or the results of an audit with at least two runs "
                    + "of a method",
                Remedy.Repeatability);
        }

        return new TestPlan
        {
            Aim = request.Aim,
            MeterKnown = request.Accuracy is not null,
            Runs = runs,
            Standby = request.StandbyPowerW is { } powerW
                ? StandbyPlan.Of(powerW, request.StandbyWithin, request.Accuracy, request.StepW, request.Samples, request.IntervalS,
                    request.Pulses)
                : null,
            Advice = Advice(request, runs),
        };
    }

    private static string Counted(SeenRepeatability seen) => seen.InBlocks ? "blocks of runs; the numbers are of blocks" : "runs";

    private static RunsNeeded Needed(PlanRequest request, string what, double repeatability, double? chargePowerW)
    {
        var meter = chargePowerW is { } powerW ? MeterPlan.Of(request.Accuracy, request.StepW, powerW, request.Aim.Share) : MeterPlan.None;
        int? same = RunsPlanner.Needed(request.Aim, repeatability, meter.SameMeter);

        // With two runs a known meter error lends the test degrees of freedom; that is no reason to use a second meter.
        int? two = request.Accuracy is null || same is null ? null
            : RunsPlanner.Needed(request.Aim, repeatability, meter.TwoMeters) is { } runsOfTwo ? Math.Max(same.Value, runsOfTwo)
            : null;
        return new RunsNeeded(
            what, repeatability, same, two,
            same is { } runs ? RunsPlanner.PowerOf(request.Aim, repeatability, meter.SameMeter, runs) : null);
    }

    private static List<string> Advice(PlanRequest request, List<RunsNeeded> runs)
    {
        var advice = new List<string>();
        if (request.Accuracy is null)
        {
            advice.Add(
                "No accuracy of the meter was given, so its error is left out: the numbers hold for one and the same meter on both sides.");
        }
        else if (runs.Any(r => r.SameMeter is not null && r.TwoMeters is null))
        {
            advice.Add("Use one and the same meter on both sides: its gain cancels then. With two meters no number of runs is enough.");
        }
        else if (runs.Any(r => r.TwoMeters > r.SameMeter))
        {
            advice.Add("Use one and the same meter on both sides: its gain cancels then, and fewer runs are needed.");
        }

        if (runs.Any(r => r.SameMeter is null))
        {
            advice.Add(InvariantText.Of(
                $"Where no number is shown, not even {RunsPlanner.MostRuns} runs of each are enough: the scatter is too great, or the "
                    + $"steps of the meter's readings are too coarse; ask for less, or measure better."));
        }

        double? durationS = request.ChargeDurationS ?? (request.Seen.Count > 0 ? request.Seen.Min(s => s.DurationS) : null);
        if (durationS is { } length)
        {
            double border = request.IntervalS / Math.Sqrt(6) / length;
            advice.Add(border > 0.2 * request.Aim.Share
                ? Prose.Of(
                    $"Readings {request.IntervalS:0.###} s apart leave the borders of a charge uncertain by {100 * border:0.##} % of its "
                    + $"length, too much for {100 * request.Aim.Share:0.##} %: read more often.")
                : Prose.Of(
                    $"Readings {request.IntervalS:0.###} s apart are close enough for the borders of a charge ({100 * border:0.###} % of "
                    + $"its length)."));
        }

        if (request.BetweenBlocks is not null || request.Seen.Any(s => s.InBlocks))
        {
            advice.Add("Where blocks are planned, the numbers are of blocks: ten runs tell most as ten blocks of one. Run both in every "
                + "block, and name the block in the study (block).");
        }

        advice.Add("Take turns, one run of each at a time: otherwise a room that warms up would look like a difference.");
        return advice;
    }

    private static InputException Lacks(string sentence, Remedy remedy) => new(InputProblem.Usage, sentence) { Remedy = remedy };
}
