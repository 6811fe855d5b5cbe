using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Logs of a calibrated meter: half an hour of 4 W and half an hour of 10 W as read, 7 Wh.</summary>
public class CalibratedLogTests
{
    private static readonly string Text = "time,power_W\n" + string.Concat(Enumerable.Range(1, 60).Select(i =>
        InvariantText.Of($"{new DateTime(2026, 7, 1).AddMinutes(i):yyyy-MM-dd HH:mm:ss},{(i <= 30 ? 4 : 10)}.000\n")));

    // The line through corrections −0.1 at 0.1 W and −0.3 at 10.3 W: −0.176471 at 4 W and −0.294118 at 10 W.
    [Fact]
    public void Gain_and_offset_act_on_the_sums()
    {
        var log = Measure(Line());
        Assert.Equal(7 - (0.5 * (0.176471 + 0.294118)), log.Result.Energy.Value, 1e-4);
        Assert.Equal(-0.5 * (0.176471 + 0.294118), log.Energies.CorrectionWh(double.NegativeInfinity, double.PositiveInfinity)!.Value,
            1e-4);
        Assert.Null(log.Result.Energy.UnknownBecause);
        Assert.Equal("power by gain and offset from 2 points of 2026-01-01", log.Result.CorrectedBy);
    }

    // Both points err alike by 0.01 and 0.02 W at 0.1 and 10.3 W: 0.013824 W at 4 W and 0.019706 at 10 W, half an hour each.
    [Fact]
    public void Errors_in_common_are_one_source_of_the_meter()
    {
        var log = Measure(Line() with { Curve = Fit(PointErrors.Common), Errors = PointErrors.Common });
        var part = Assert.Single(log.Result.Energy.Components, c => c.Source.Owner == SourceOwner.Meter);
        Assert.Equal("meter:plug/power-calibration-2026-01-01-reference", part.Source.Id);
        Assert.True(part.Source.Shared);
        Assert.Equal(0.5 * (0.013824 + 0.019706), part.SignedStandardUncertainty, 1e-4);
    }

    // 1 % and 20 mW a year, rectangular, half a year from 1 January to 1 July (181 days): 7 Wh and 1 h.
    [Fact]
    public void Drift_counts_by_the_time_since_the_calibration()
    {
        var log = Measure(Line() with { DriftPerYear = MeterAccuracy.Parse("1 % + 20 mW", LogQuantity.Power) });
        double years = 181 / 365.25 / Math.Sqrt(3);
        Assert.Equal(0.01 * 7 * years, Part(log, "-drift-gain"), 1e-4);
        Assert.Equal(0.02 * 1 * years, Part(log, "-drift-offset"), 1e-4);
    }

    [Fact]
    public void Drift_without_a_day_leaves_no_interval()
    {
        var log = Measure(Line() with { Date = null, DriftPerYear = MeterAccuracy.Parse("1 %", LogQuantity.Power) });
        Assert.Contains("the day of its calibration is not stated", log.Result.Energy.UnknownBecause, StringComparison.Ordinal);
    }

    // Calibrated to 5 W only: the 5 Wh at 10 W keep the data sheet's 2 %, or leave no interval where nothing is stated.
    [Fact]
    public void Outside_the_calibrated_range_the_data_sheet_counts()
    {
        var narrow = Line() with { Range = (0, 5) };
        var log = Measure(narrow, "2 %");
        // A cell that straddles the step is not divided.
        Assert.Equal(7 - (0.5 * 0.176471), log.Result.Energy.Value, 1e-3);
        Assert.Equal(0.02 * 5 / Math.Sqrt(3), Part(log, "power-gain"), 1e-3);
        Assert.Contains(log.Result.Doubts, d => d.Text.Contains("lies outside what meter plug was calibrated for",
            StringComparison.Ordinal));
        Assert.Contains("was not calibrated for 7", Measure(narrow).Result.Energy.UnknownBecause, StringComparison.Ordinal);
    }

    // A zero reading takes the offset's place and leaves the stated gain.
    [Fact]
    public void A_zero_reading_leaves_the_stated_gain()
    {
        CalibrationPoint[] zero = [new(0, 0.05, 0.002)];
        var calibration = Line() with
        {
            Model = CorrectionModel.Offset,
            Points = zero,
            Range = (0, double.PositiveInfinity),
            Curve = CorrectionCurve.TryFit(zero, CorrectionModel.Offset, PointErrors.Independent, out _)!,
        };
        var log = Measure(calibration, "1 % + 0.1 W");
        Assert.Equal(7 - 0.05, log.Result.Energy.Value, 1e-4);
        Assert.Equal(0.01 * 7 / Math.Sqrt(3), Part(log, "power-gain"), 1e-3);
        Assert.Equal(0, Part(log, "power-offset"));
        Assert.Equal(0.002, Part(log, "-level"), 1e-6);
        Assert.Contains("for power is not stated", Measure(calibration).Result.Energy.UnknownBecause, StringComparison.Ordinal);
    }

    // 9 V and 2 A: corrections of 1 % of the voltage and 10 mA make (9.09 · 2.01 − 18) W.
    [Fact]
    public void A_product_is_corrected_by_its_factors()
    {
        CalibrationPoint[] volts = [new(10.1, 10, 0.001)], amperes = [new(2.01, 2, 0.001)];
        MeterCalibration Of(LogQuantity quantity, CorrectionModel model, CalibrationPoint[] points) => new()
        {
            Quantity = quantity,
            Model = model,
            Points = points,
            Range = (0, 100),
            Curve = CorrectionCurve.TryFit(points, model, PointErrors.Independent, out _)!,
        };
        string text = TextLog.Of("time_s,voltage_V,current_A", Enumerable.Range(0, 3601), ("F3", _ => 9), ("F3", _ => 2));
        var meter = new Meter
        {
            Name = "plug",
            Options = new LogOptions { Point = MeasuringPoint.Usb, Samples = SampleKind.AverageEnding },
            Calibrations = [Of(LogQuantity.Voltage, CorrectionModel.Gain, volts), Of(LogQuantity.Current, CorrectionModel.Offset, amperes)],
            Accuracy = DataSheet.Of((LogQuantity.Voltage, "0.1 % + 1 mV"), (LogQuantity.Current, "0.1 % + 1 mA")),
        };
        var log = Measure(text, meter);
        Assert.Equal(9.09 * 2.01 * log.Result.DurationS / 3600, log.Result.Energy.Value, 1e-6);
        Assert.Equal(0, Part(log, "voltage-gain"));
        Assert.Equal(0, Part(log, "current-offset"));
        Assert.True(Part(log, "voltage-offset") > 0 && Part(log, "current-gain") > 0);
    }

    // Cells of an hour with readings of 1 and 9 W in turn: mean 5 W, and a curve that is 0 at 0 and 10 W and 0.5 at 5 W. In truth the mean
    // correction is 0.1 W, the cell's mean says 0.5 W; the difference must be in the interval.
    [Fact]
    public void A_curve_that_bends_inside_a_cell_widens_the_interval()
    {
        CalibrationPoint[] points = [new(0, 0, 0.001), new(5.5, 5, 0.001), new(10, 10, 0.001)];
        var calibration = Line() with
        {
            Model = CorrectionModel.Interpolation,
            Points = points,
            Curve = CorrectionCurve.TryFit(points, CorrectionModel.Interpolation, PointErrors.Independent, out _)!,
        };
        string text = TextLog.Of("time_s,power_W", Enumerable.Range(0, 400_000), ("F3", t => t % 2 == 0 ? 1 : 9));
        var log = Measure(text, new Meter { Name = "plug", Options = Options, Calibrations = [calibration] });
        double hours = log.Result.DurationS / 3600;
        var interval = log.Result.Energy.Interval()!.Value;
        Assert.InRange(5.1 * hours, interval.Low, interval.High);
    }

    [Fact]
    public void A_calibration_of_something_else_is_told()
    {
        CalibrationPoint[] points = [new(1.01, 1, 0.001)];
        var counter = Line() with
        {
            Quantity = LogQuantity.Energy,
            Model = CorrectionModel.Gain,
            Points = points,
            Curve = CorrectionCurve.TryFit(points, CorrectionModel.Gain, PointErrors.Independent, out _)!,
        };
        var log = Measure(counter, "1 %");
        Assert.Equal(7, log.Result.Energy.Value, 1e-4);
        Assert.Contains(log.Result.Doubts, d => d.Text.Contains("is of energy and corrects nothing here", StringComparison.Ordinal));
    }

    [Fact]
    public void A_calibration_for_another_power_factor_corrects_nothing()
    {
        var meter = new Meter
        {
            Name = "plug",
            Options = Options,
            PowerFactor = 0.9,
            Calibrations = [Line() with { PowerFactor = (0.3, 0.6) }],
            Accuracy = DataSheet.Of((LogQuantity.Power, "1 %")),
        };
        Assert.Equal(7, Measure(Text, meter).Result.Energy.Value, 1e-4);
        Assert.Equal(6.7647, Measure(Text, meter with { PowerFactor = 0.5 }).Result.Energy.Value, 1e-4);
    }

    private static readonly LogOptions Options = new() { Point = MeasuringPoint.Wall, Samples = SampleKind.AverageEnding };

    private static readonly CalibrationPoint[] PointsOfLine = [new(0, 0.1, 0.01), new(10, 10.3, 0.02)];

    private static CorrectionCurve Fit(PointErrors errors) =>
        CorrectionCurve.TryFit(PointsOfLine, CorrectionModel.GainAndOffset, errors, out _)!;

    private static MeterCalibration Line() => new()
    {
        Quantity = LogQuantity.Power,
        Model = CorrectionModel.GainAndOffset,
        Points = PointsOfLine,
        Curve = Fit(PointErrors.Independent),
        Date = new DateOnly(2026, 1, 1),
        Range = (0, 12),
    };

    private static double Part(MeasuredLog log, string ending) => log.Result.Energy.Components
        .Where(c => c.Source.Id.EndsWith(ending, StringComparison.Ordinal)).Sum(c => c.SignedStandardUncertainty);

    private static MeasuredLog Measure(MeterCalibration calibration, string? accuracy = null) => Measure(Text, new Meter
    {
        Name = "plug",
        Options = Options,
        Calibrations = [calibration],
        Accuracy = accuracy is null ? DataSheet.Of() : DataSheet.Of((LogQuantity.Power, accuracy)),
    });

    private static MeasuredLog Measure(string text, Meter meter)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Names = ["log.csv"], Meter = meter },
                cancellation: TestContext.Current.CancellationToken);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
