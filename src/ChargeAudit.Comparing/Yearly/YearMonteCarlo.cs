using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>
/// Intervals of a year from random draws of every source at once; figures that share a source are drawn together. Prices by mode stay those
/// of the stated week. <i>Source:</i> JCGM 101:2008, 6.4 (distributions; 6.4.9 for few degrees of freedom) and 7.7 (interval).
/// </summary>
internal static class YearMonteCarlo
{
    private const double Coverage = 0.95;

    /// <summary>Energy and cost intervals; null with a reason where a needed uncertainty is not known.</summary>
    internal static (MonteCarloInterval? Energy, MonteCarloInterval? Cost, string? WhyNot) Of(YearInput input, YearModel model)
    {
        if (input.Draws < 1000)
        {
            return (null, null, "no random draws were asked for");
        }

        var operands = new[]
        {
            Needed(input.EnergyPerCharge, Mode.Charge, model), Needed(input.MaintenancePower, Mode.Maintenance, model),
                Needed(input.NoLoadPower, Mode.NoLoad, model),
        };
        if (operands.FirstOrDefault(o => o.UnknownBecause is not null) is { } unknown)
        {
            return (null, null, unknown.UnknownBecause);
        }

        var sources = operands.SelectMany(o => o.Components).Select(c => c.Source).Distinct().OrderBy(s => s.Id, StringComparer.Ordinal)
            .ToArray();
        var sensitivity =
            Array.ConvertAll(operands,
            o => Array.ConvertAll(sources, s => o.Components.FirstOrDefault(c => c.Source.Equals(s)).SignedStandardUncertainty));
        var random = new Xoshiro256StarStar(input.Seed, threadSafe: false);
        var energies = new double[input.Draws];
        var costs = new double[input.Draws];
        double[] z = new double[sources.Length];
        double[] drawn = new double[3];
        for (int i = 0; i < input.Draws; i++)
        {
            for (int s = 0; s < z.Length; s++)
            {
                z[s] = Draw(sources[s], random);
            }

            for (int o = 0; o < drawn.Length; o++)
            {
                drawn[o] = operands[o].Value;
                for (int s = 0; s < z.Length; s++)
                {
                    drawn[o] += sensitivity[o][s] * z[s];
                }
            }

            (energies[i], costs[i]) = Year(model, input.Tariff, drawn, random);
        }

        return (Interval(energies, input), input.Tariff is null ? null : Interval(costs, input), null);
    }

    private static (double Kwh, double Cost) Year(YearModel model, PreparedTariff? tariff, double[] drawn, Xoshiro256StarStar random)
    {
        double charges = model.Use.Use.ChargesPerWeek;
        double factor = 1;
        if (model.Use.Use.ChargesPerWeekRange is { } range)
        {
            charges = range.Low + ((range.High - range.Low) * random.NextDouble());
        }

        var hours = model.Use.WithCharges(charges).Hours(model.ChargeDurationH);
        double weeks = model.Use.WeeksPerYear / 1000;
        double charge = charges * model.Use.Use.Devices * model.Use.Share * weeks * drawn[0];
        double maintenance = hours.MaintenanceH * weeks * drawn[1];
        double noLoad = hours.NoLoadH * weeks * drawn[2];
        double kwh = charge + maintenance + noLoad;
        if (tariff is null)
        {
            return (kwh, 0);
        }

        if (tariff.Source.PriceWithinPercent is { } within)
        {
            factor += within / 100 * ((2 * random.NextDouble()) - 1);
        }

        double cost = (model.Price[(int)Mode.Charge] * charge) + (model.Price[(int)Mode.Maintenance] * maintenance)
            + (model.Price[(int)Mode.NoLoad] * noLoad);
        return (kwh, factor * (cost + tariff.TierCost(kwh)));
    }

    private static Measured Needed(Figure figure, Mode mode, YearModel model) =>
        model.Weight(mode) == 0 ? Measured.Exact(0, "1") : figure.Value!;

    /// <summary>A draw of unit standard uncertainty.</summary>
    private static double Draw(InfluenceSource source, Xoshiro256StarStar random) => source.Shape switch
    {
        ErrorShape.Rectangular => Math.Sqrt(3) * ((2 * random.NextDouble()) - 1),
        ErrorShape.Triangular => Math.Sqrt(6) * (random.NextDouble() - random.NextDouble()),
        ErrorShape.Arcsine => Math.Sqrt(2) * Math.Sin(2 * Math.PI * random.NextDouble()),
        _ => source.DegreesOfFreedom < 1e6 ? StudentT.Sample(random, 0, 1, source.DegreesOfFreedom) : Normal.Sample(random, 0, 1),
    };

    private static MonteCarloInterval Interval(double[] draws, YearInput input)
    {
        Array.Sort(draws);
        double At(double p) => draws[Math.Clamp((int)Math.Ceiling(p * draws.Length) - 1, 0, draws.Length - 1)];
        return new MonteCarloInterval(At(0.5 * (1 - Coverage)), At(0.5), At(0.5 * (1 + Coverage)), Coverage, input.Draws, input.Seed);
    }
}
