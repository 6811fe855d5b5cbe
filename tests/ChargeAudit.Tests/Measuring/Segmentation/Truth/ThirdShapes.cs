using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>
/// Days drawn by hand as corner points: chargers that step down in stages, falls along a logistic curve, slow drifts of the waiting power,
/// ripples. Once kept apart for a verdict, which showed what the mode finder lacked; it was mended with these in view, so they are no
/// verdict any more.
/// </summary>
public static class ThirdShapes
{
    public static TruthLog Make(int number)
    {
        var random = new TruthRandom(0xABCDEF0123UL + (7919UL * (ulong)number));
        double top = random.LogBetween(2.5, 45);
        double hours = random.Between(0.5, 3);
        double interval = random.Of(0.1, 0.2, 1.0, 1.0, 1.0, 1.0, 2.0, 4.0, 10.0, 20.0, 60.0);
        bool pad = top < 20 && random.Chance(0.5);
        double waiting = pad ? random.Between(0.1, 0.12 * top) : random.Between(0.004, 0.02) * top;
        double full = waiting * random.Between(1.3, 2);
        double end = full + (top * random.Between(0.03, 0.08));
        var day = new TruthDay();
        int plot = random.Whole(0, 6);
        if (plot == 0)
        {
            Wait(day, random, waiting, pad, random.Between(2000, 15000));
            return day.Log($"only waiting {number}", random, Meter(random, interval, top), hours * top * 0.6, top);
        }

        int charges = plot == 1 ? 2 : 1;
        if (plot != 2)
        {
            Wait(day, random, waiting, pad, random.Between(800, 4000));
        }

        for (int i = 0; i < charges; i++)
        {
            Stages(day, random, top, end, hours * 3600 * random.Between(0.6, 1));
            if (plot == 3)
            {
                break;
            }

            Full(day, random, full, top, random.Between(1500, 9000));
            Wait(day, random, waiting, pad, random.Between(1000, 5000));
        }

        return day.Log($"stages {number}", random, Meter(random, interval, top), hours * top * 0.6, top);
    }

    private static TruthMeter Meter(TruthRandom random, double interval, double top) => new(
        interval, random.Of(0, 0.1), random.Chance(0.5), top * random.LogBetween(0.00005, 0.001), random.LogBetween(0.0005, 0.005),
            random.Of(0, 0.001, 0.01));

    private static void Wait(TruthDay day, TruthRandom random, double level, bool pad, double lengthS)
    {
        double swing = random.Between(0, 0.04) * level;
        double every = random.Between(1, 8);
        double height = pad ? random.Between(1, 4) * level : 0;
        day.Add(Mode.NoLoad, lengthS, t =>
        {
            double phase = t / every;
            phase -= Math.Floor(phase);
            double triangle = phase < 0.08 ? 1 - Math.Abs((phase / 0.04) - 1) : 0;
            return level + (swing * Math.Sin(t / 900)) + (height * triangle);
        });
    }

    private static void Stages(TruthDay day, TruthRandom random, double top, double end, double lengthS)
    {
        double second = random.Between(0.6, 0.8);
        double third = random.Between(0.35, 0.55);
        double firstTo = random.Between(0.25, 0.4) * lengthS;
        double secondTo = firstTo + (random.Between(0.15, 0.25) * lengthS);
        double steep = random.Between(5, 9);
        double ripple = random.Between(0, 0.01) * top;
        double beats = random.Between(7, 31);
        double from = third * top;

        // A logistic fall from the third stage, scaled so that it starts and stops exactly at the two levels.
        double Logistic(double x) => 1 / (1 + Math.Exp(steep * (x - 0.4)));
        day.Add(Mode.Charge, lengthS, t =>
        {
            double wave = ripple * Math.Sin(2 * Math.PI * t / beats);
            if (t < firstTo)
            {
                return (top * (0.97 + (0.03 * t / firstTo))) + wave;
            }

            if (t < secondTo)
            {
                return (second * top) + wave;
            }

            double x = (t - secondTo) / (lengthS - secondTo);
            double share = (Logistic(x) - Logistic(1)) / (Logistic(0) - Logistic(1));
            return end + ((from - end) * share) + (wave * share);
        });
    }

    private static void Full(TruthDay day, TruthRandom random, double level, double top, double lengthS)
    {
        double first = random.Between(600, 2400);
        double bump = random.Chance(0.5) ? random.Between(0.15, 0.35) * top : 0;
        double width = Math.Min(150, 0.01 * 3600 * top / Math.Max(0.1, bump));
        double drift = random.Between(-0.02, 0.02);
        day.Add(Mode.Maintenance, lengthS, t =>
        {
            double since = (t + 2000 - first) % 2000;
            double hump = t > 300 && since < width ? Math.Sin(Math.PI * since / width) : 0;
            return (level * (1 + (drift * t / lengthS))) + (bump * hump);
        });
    }
}
