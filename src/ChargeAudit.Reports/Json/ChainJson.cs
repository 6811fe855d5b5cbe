using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>What links the logs of a run and the stages of a charge, in JSON: clocks, ends of charge, losses, adapter curves.</summary>
internal static class ChainJson
{
    /// <summary>How the clock of a run's meter compares with another's.</summary>
    public static ClockDocument Clock(ClockResult c) =>
        new(StableName.Of(c.Point), StableName.Of(c.Reference), c.AheadS.Json(), c.AheadS.Why(), c.Applied);

    /// <summary>The stage between two points.</summary>
    public static StageDocument Stage(StageResult s) => new(
        s.Method,
        StableName.Of(s.From),
        StableName.Of(s.To),
        s.Efficiency.Json(),
        s.Efficiency.Why(),
        s.Loss.Json(),
        s.Loss.Why(),
        s.Check is { } check
            ? new(
                Known.Finite(check.Efficiency),
                Known.Finite(check.Probability),
                Known.Unless(check.Probability, "the uncertainty is not known"),
                check.Text)
            : null,
        Known.Unless(s.Check, "no more energy comes out of the stage than goes in"));

    /// <summary>A method beside the reference.</summary>
    public static ComparisonDocument Comparison(ComparisonResult c) => new(
        c.Reference,
        c.Method,
        StableName.Of(c.Point),
        c.OverheadRatio.Json(),
        c.OverheadRatio.Why(),
        c.ExtraEnergyPerCharge.Json(),
        c.ExtraEnergyPerCharge.Why(),
        c.ExtraCostPerYear.Json(),
        c.ExtraCostPerYear.Why(),
        [
            .. c.EndRules.Select(e => new EndRuleDocument(
                StableName.Of(e.Rule), Known.Finite(e.Ratio), Known.Unless(e.Ratio, e.WhyNot ?? "not known"), e.Rule
                    == EndRule.PlainShare)),
        ]);

    /// <summary>The parts of the charges and the bursts that begin within a mode.</summary>
    public static DetailDocument Detail(ModeDetail d) =>
        new(StableName.Of(d.Kind), Known.Finite(d.StartS), Known.Finite(d.EndS), Known.Finite(d.MeanPowerW));

    /// <summary>Where the energy goes.</summary>
    public static LossSplitDocument Losses(LossResult l) => new(
        l.Method,
        StableName.Of(l.From),
        l.EnergyIn.Json(),
        l.EnergyIn.Why(),
        [
            .. l.Parts.Select(p => new LossPartDocument(
                [.. p.Places.Select(StableName.Of)],
                StableName.Of(p.From),
                p.To is { } to ? StableName.Of(to) : null,
                Known.Unless(p.To, "up to what the battery stored"),
                p.EnergyWh.Json(),
                p.EnergyWh.Why())),
        ],
        l.Arrives.Json(),
        l.Arrives.Why(),
        l.LastPoint is { } last ? StableName.Of(last) : null,
        Known.Unless(l.LastPoint, "the battery's energy is given"),
        l.NotSeparated,
        Known.Unless(l.NotSeparated, "the split reaches what the battery stored"));

    /// <summary>How an adapter converts.</summary>
    public static AdapterCurveDocument Curve(AdapterCurveResult c)
    {
        double? outV = c.OutV > 0 ? c.OutV : null;
        return new(
            c.Method,
            Known.Finite(outV),
            Known.Unless(outV, "no voltage was logged"),
            c.Points,
            Known.Finite(c.LeastOutW),
            Known.Finite(c.GreatestOutW),
            c.Fixed.Json(),
            c.Fixed.Why(),
            c.PerWatt.Json(),
            c.PerWatt.Why(),
            c.PerSquare.Json(),
            c.PerSquare.Why(),
            [.. c.Efficiencies.Select(e => new EfficiencyAtDocument(Known.Finite(e.OutW), e.Efficiency.Json(), e.Efficiency.Why()))],
            [
                .. c.Rated.Select(e => new EfficiencyAtRatedDocument(
                    e.SharePercent, Known.Finite(e.OutW), e.Efficiency.Json(), e.Efficiency.Why())),
            ],
            c.Average.Json(),
            c.Average.Why(),
            [.. c.Published.Select(p => p.Text)]);
    }
}
