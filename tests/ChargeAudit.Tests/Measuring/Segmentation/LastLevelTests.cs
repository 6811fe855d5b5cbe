using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>
/// A full device whose screen, bursts and top-ups lift power again and again, each time back to one level; and falls by stages, of which a
/// lower one follows. Where the charge ends is known from how the logs are made.
/// </summary>
public sealed class LastLevelTests
{
    private const double WaitingS = 360;
    private const double HighS = 5000;
    private const double FallS = 2200;
    private const double EndS = WaitingS + HighS + FallS;

    // The battery's part falls from 6 W to 0.3 W and is cut off there; 0.9 W are the device's own and the pad's.
    [Theory]
    [InlineData("bursts", 1, 12)]
    [InlineData("bursts", 2, 8)]
    [InlineData("screen", 1, 12)]
    [InlineData("screen", 5, 8)]
    [InlineData("top-ups", 1, 8)]
    [InlineData("top-ups", 10, 8)]
    public void A_charge_ends_where_power_first_comes_down_to_the_level_that_it_comes_back_to(string load, int eachS, int seeds)
    {
        for (int seed = 1; seed <= seeds; seed++)
        {
            double[] own = Own(load, seed, 12_600);
            double Power(int t) => t < WaitingS ? 0.25
                : own[t] + 0.9 + (t < WaitingS + HighS ? 6 : t < EndS ? 6 * Math.Exp(-(t - WaitingS - HighS) / FallS * Math.Log(20)) : 0);

            var charge = Assert.Single(Measured(Power, own.Length, eachS).Sessions);
            string told = FormattableString.Invariant($"{load} {seed}: {charge.EndS} for {EndS} s");
            Assert.True(Math.Abs(charge.EndS - EndS) <= 300, told);
        }
    }

    // Stages of a charge by current steps: 4.6 W and less is no full device where 2.2 W and then 0.9 W follow.
    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public void A_fall_by_stages_ends_at_the_last_of_them(int eachS)
    {
        double[] own = Own("bursts", 3, 14_000);
        (int From, double FirstW, double LastW)[] stages =
            [(0, 0.06, 0.06), (260, 7.6, 8.2), (9500, 6.3, 5.7), (9910, 4.7, 4.55), (10_150, 3.95, 3.35), (10_500, 2.85, 2.75),
                (10_750, 2.42, 2.24), (11_000, 2.24, 2.24), (11_850, 2.24, 1.7), (12_240, 0.89, 0.89), (own.Length, 0.89, 0.89)];
        double Power(int t)
        {
            int i = Array.FindLastIndex(stages, s => s.From <= t);
            double share = (t - stages[i].From) / (double)(stages[i + 1].From - stages[i].From);
            return stages[i].FirstW + (share * (stages[i].LastW - stages[i].FirstW)) + (t >= 260 ? 0.2 * own[t] : 0);
        }

        var charge = Assert.Single(Measured(Power, own.Length, eachS).Sessions);
        Assert.InRange(charge.EndS, 12_240 - 60, 12_240 + 60);
    }

    // Levels after a charge that come one after the other, without coming back, are no rises.
    [Fact]
    public void A_device_in_use_on_one_level_after_its_charge_is_not_charged_on()
    {
        double Power(int t) => t < WaitingS ? 0.25
            : t < EndS ? 0.9 + (t < WaitingS + HighS ? 6 : 6 * Math.Exp(-(t - WaitingS - HighS) / FallS * Math.Log(20)))
            : t < EndS + 1500 ? 1.6 : 0.9;

        var charge = Assert.Single(Measured(Power, 14_000, 1).Sessions);
        Assert.InRange(charge.EndS, EndS - 200, EndS + 1500);
    }

    // Rises of the device's own load, second by second. [W]
    private static double[] Own(string load, int seed, int lengthS)
    {
        var dice = new Random(seed);
        double[] own = new double[lengthS];
        void Add(double fromS, double forS, double powerW)
        {
            for (int t = (int)fromS; t < Math.Min(lengthS, fromS + forS); t++)
            {
                own[t] += powerW;
            }
        }

        double Gap(double meanS) => -meanS * Math.Log(1 - dice.NextDouble());
        for (double t = Gap(40); load != "top-ups" && t < lengthS; t += 4 + Gap(40))
        {
            Add(t, dice.Next(1, 5), 0.77);
        }

        for (double t = WaitingS + Gap(900); load == "screen" && t < lengthS; t += Gap(900))
        {
            // Lit as the charge ends, it would hide where that is.
            double onS = 20 + Gap(200);
            Add(t, t < EndS + 60 && t + onS > EndS - 1500 ? 0 : onS, 1);
            t += onS;
        }

        for (double t = EndS + 500; load == "top-ups" && t < lengthS; t += 900 + (100 * dice.NextDouble()))
        {
            Add(t, 120, 2.5);
        }

        return own;
    }

    private static LogMeasurement Measured(Func<int, double> powerW, int lengthS, int eachS)
    {
        var text = new StringBuilder("time_s,power_W\n");
        for (int t = eachS; t <= lengthS; t += eachS)
        {
            double mean = Enumerable.Range(t - eachS, eachS).Average(powerW);
            text.Append(CultureInfo.InvariantCulture, $"{t},{mean:0.###}\n");
        }

        var options = new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.AverageEnding };
        return WrittenLog.Measure(text.ToString(), options, "1 % + 20 mW").Result;
    }
}
