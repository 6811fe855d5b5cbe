using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.RandomEffects;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Pooling;

/// <summary>Pools one figure over devices.</summary>
internal static class FigurePooler
{
    /// <summary>Fewer devices than this are only listed.</summary>
    public const int LeastDevices = 3;

    private const double Coverage = 0.95;

    private static readonly InfluenceSource BetweenDevices = new("between-devices") { Kind = SourceKind.Repeatability };

    /// <summary>The pool; null where no audit has the figure.</summary>
    public static PooledFigure? Of(PoolFigure figure, string? charger, IReadOnlyList<PoolRow> rows)
    {
        var known = rows.Where(r => r.Figures[figure].Value is not null).ToList();
        if (known.Count == 0)
        {
            return null;
        }

        string[] missing = [.. rows.Where(r => r.Figures[figure].Value is null)
            .Select(r => $"{r.Audit.File}, {r.Method}: {r.Figures[figure].WhyNot}").Distinct()];
        var devices = known.GroupBy(r => r.Device)
            .Select(d => (Name: d.Key, Rows: d.ToList(), Figure: MeanOf([.. d.Select(r => r.Figures[figure].Value!)]))).ToList();
        string unit = PoolRow.AsLogarithm(figure) && figure == PoolFigure.EnergyPerCharge ? "Wh" : devices[0].Figure.Unit;
        var scale = new Scale(PoolRow.AsLogarithm(figure));
        string? whyNot = devices.Count < LeastDevices
            ? $"{devices.Count} device{(devices.Count == 1 ? "" : "s")}: a mean over devices and their spread need at least {LeastDevices}"
            : devices.FirstOrDefault(d => d.Figure.UnknownBecause is not null) is { Figure: { } unknown }
                ? $"the uncertainty of an audit is not known: {unknown.UnknownBecause}"
            : devices.Any(d => d.Figure.Components.All(c => c.SignedStandardUncertainty == 0))
                ? "an audit states no uncertainty at all"
                : null;
        var figures = devices.Select(d => d.Figure).ToList();
        var fit = whyNot is null ? Fit.Of(figures) : null;
        return new PooledFigure(
            figure,
            charger,
            unit,
            [.. devices.Select((d, i) => Device(d.Name, [.. d.Rows.Select(r => r.Audit.File).Distinct()], figures, i, fit, scale))],
            fit is null ? null : Answer(fit, scale),
            whyNot)
        { Missing = missing };
    }

    /// <summary>The mean of several figures, each counting alike.</summary>
    public static Measured MeanOf(IReadOnlyList<Measured> figures) =>
        figures.Count == 1
            ? figures[0]
            : Measured.Combine(figures.Average(f => f.Value), figures[0].Unit, figures.Select(f => (1.0 / figures.Count, f)));

    private static PooledDevice Device(string name, IReadOnlyList<string> audits, List<Measured> figures, int i, Fit? fit, Scale scale)
    {
        var own = figures[i];
        var interval = own.Interval();
        var value = new PooledValue(scale.Back(own.Value), scale.Back(interval?.Low), scale.Back(interval?.High));
        if (fit is null || figures.Count <= LeastDevices)
        {
            return new PooledDevice(name, audits, value, fit?.Mean.Weights[i], null, null);
        }

        var rest = Fit.Of([.. figures.Where((_, j) => j != i)]);
        return new PooledDevice(
            name, audits, value, fit.Mean.Weights[i], scale.Interval(rest.MeanFigure), (fit.Mean.Mean - rest.Mean.Mean)
                / rest.MeanFigure.StandardUncertainty);
    }

    private static PooledAnswer Answer(Fit fit, Scale scale)
    {
        var distribution = fit.OfSpread();
        var (low, high) = distribution.Interval(Coverage);
        double shared = fit.Errors.CommonOf(fit.Mean.Weights).Sum(c => c.Variance);
        double ofAudit = fit.Errors.Covariance.Diagonal().Average();
        var device = PredictionInterval.ByConfidenceDistribution(distribution, shared, Coverage);
        var measurement = PredictionInterval.ByConfidenceDistribution(distribution, shared + ofAudit, Coverage);
        double mean = scale.Back(fit.Mean.Mean);
        return new PooledAnswer(
            scale.Interval(fit.MeanFigure),
            fit.MeanFigure.StandardUncertainty!.Value,
            fit.Mean.DegreesOfFreedom,
            new DeviceSpread(
                Math.Sqrt(fit.Mean.SpreadVariance), Math.Sqrt(SpreadEstimate.PauleMandel(fit.Model)), Math.Sqrt(low), Math.Sqrt(high),
                    fit.Model.Q(0), fit.Model.DegreesOfFreedom),
            new PooledValue(mean, scale.Back(device.Low), scale.Back(device.High)),
            new PooledValue(mean, scale.Back(measurement.Low), scale.Back(measurement.High)),
            Shares(fit));
    }

    private static List<VarianceShare> Shares(Fit fit)
    {
        var weights = fit.Mean.Weights;
        var common = fit.Errors.Common.Select(c => c.Source).ToHashSet();
        var parts = new List<VarianceShare> { new("spread between devices", fit.Mean.SpreadVariance * weights.Sum(w => w * w), false) };
        var ofMean = Measured.Combine(0, "1", fit.Errors.Figures.Zip(weights, (f, w) => (w, f))).Components;
        parts.AddRange(ofMean.GroupBy(c => (c.Source.Owner, c.Source.Kind, All: common.Contains(c.Source))).Select(g => new VarianceShare(
            Label(g.Key.Owner, g.Key.Kind), g.Sum(c => c.Variance), g.Key.All)));
        double total = parts.Sum(p => p.Share);
        return [.. parts.Select(p => p with { Share = total > 0 ? p.Share / total : 0 }).Where(p => p.Share > 0)
            .OrderByDescending(p => p.Share)];
    }

    private static string Label(SourceOwner owner, SourceKind kind) =>
        InfluenceSource.Word(owner) is { } word ? $"{StableName.Of(kind)} ({word})" : StableName.Of(kind);

    /// <summary>The model of one set of figures with its mean.</summary>
    internal sealed record Fit(JointErrors Errors, SpreadModel Model, PooledMean Mean, Measured MeanFigure)
    {
        private double FreedomOfSize { get; init; } = double.PositiveInfinity;

        public static Fit Of(IReadOnlyList<Measured> figures)
        {
            var moderated = ModeratedErrors.Of(figures);
            var errors = JointErrors.Of(moderated);
            var model = ModelOf(moderated, 1);
            var mean = PooledMean.HartungKnapp(model, SpreadEstimate.Reml(model));

            // Devices that happen to agree better than their own errors allow do not make the mean any more certain than those errors do.
            double u = Math.Max(mean.StandardUncertainty, Math.Sqrt(model.MeanVariance(mean.SpreadVariance)));
            var scatter = new UncertaintyComponent(BetweenDevices with { DegreesOfFreedom = mean.DegreesOfFreedom }, u);
            return new Fit(errors, model, mean, Measured.From(mean.Mean, figures[0].Unit, [scatter, .. errors.CommonOf(mean.Weights)]))
            {
                FreedomOfSize = ModeratedErrors.DegreesOfFreedomOfSize(figures),
            };
        }

        public SpreadDistribution OfSpread() => SpreadDistribution.Of(f => ModelOf(Errors.Figures, f), FreedomOfSize);

        private static SpreadModel ModelOf(IReadOnlyList<Measured> moderated, double factor)
        {
            var sized = ModeratedErrors.WithSize(moderated, factor);
            return new([.. sized.Select(f => f.Value)], JointErrors.Of(sized).Covariance,
                [.. sized.Select(f => f.DegreesOfFreedom!.Value)]);
        }
    }

    /// <summary>From the scale that is pooled on to the one that people read.</summary>
    private readonly record struct Scale(bool Logarithm)
    {
        public double Back(double x) => Logarithm ? Math.Exp(x) : x;

        public double? Back(double? x) => x is { } value ? Back(value) : null;

        public PooledValue Interval(Measured m) => new(Back(m.Value), Back(m.Interval()?.Low), Back(m.Interval()?.High));
    }
}
