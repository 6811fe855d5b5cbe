using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies.Toml;
using Tomlyn;

namespace ChargeAudit.Studies;

/// <summary>Reads the calibrations of a meter.</summary>
internal static class CalibrationReader
{
    // How far the curve goes on beyond the outermost points, as a share. [1]
    private const double Beyond = 0.1;

    private static readonly (string Word, LogQuantity Quantity)[] Quantities =
    [
        ("power", LogQuantity.Power), ("voltage", LogQuantity.Voltage), ("current", LogQuantity.Current), ("energy", LogQuantity.Energy),
    ];

    private static readonly (string Word, CorrectionModel Model)[] Models =
    [
        ("offset", CorrectionModel.Offset), ("gain", CorrectionModel.Gain), ("gain-and-offset", CorrectionModel.GainAndOffset),
        ("interpolation", CorrectionModel.Interpolation),
    ];

    private static readonly (string Word, PointErrors Errors)[] ErrorWords =
        [("independent", PointErrors.Independent), ("common", PointErrors.Common)];

    /// <summary>The calibrations in a meter's table.</summary>
    public static IReadOnlyList<MeterCalibration> Of(TomlTableReader meter) => [.. meter.ListOfTables("calibration").Select(One)];

    private static MeterCalibration One(TomlTableReader table)
    {
        var quantity = table.Choice("quantity", Quantities)
            ?? throw table.Refuse(table.Line, $"[{table.Path}] has no \"quantity\"; add it, for example quantity = \"power\"");
        var model = table.Choice("model", Models)
            ?? throw table.Refuse(table.Line, $"[{table.Path}] has no \"model\"; add model = \"gain-and-offset\" or another of "
                + $"{string.Join(", ", Models.Select(m => m.Word))}");
        if (quantity == LogQuantity.Energy && model != CorrectionModel.Gain)
        {
            throw table.Refuse(table.LineOf("model"), $"{table.PathOf("model")} of a counter's energy must be gain: an offset of a counter "
                + "cancels in every difference of two readings");
        }

        string unit = quantity switch { LogQuantity.Power => "W", LogQuantity.Voltage => "V", LogQuantity.Current => "A", _ => "Wh" };
        var points = table.ListOfTables("points").Select(p => Point(p, unit)).ToList();
        var (zero, files) = Zero(table, unit, model);
        var errors = table.Choice("errors", ErrorWords) ?? PointErrors.Unsaid;

        // Until its logs are measured, a zero reading counts as known as well as the best point.
        CalibrationPoint? pending = files.Count == 0 ? null
            : new CalibrationPoint(0, 0, points.Count == 0 ? 1 : points.Min(p => p.StandardUncertainty));
        List<CalibrationPoint> known = [.. points, .. new[] { zero }.OfType<CalibrationPoint>()];
        var curve = CorrectionCurve.TryFit([.. known, .. new[] { pending }.OfType<CalibrationPoint>()], model, errors, out string? fault)
            ?? throw table.Refuse(table.Line, $"[{table.Path}] gives no correction: {fault}");
        var calibration = new MeterCalibration
        {
            Quantity = quantity,
            Model = model,
            Points = known,
            Curve = curve,
            Date = Day(table, "date"),
            Errors = errors,
            DriftPerYear = Drift(table, quantity),
            Range = Range(table, unit, model, quantity, points, hasZero: zero is not null || files.Count > 0),
            PowerFactor = FactorBand(table),
            ZeroFiles = files,
        };
        table.Finish();
        return calibration;
    }

    private static CalibrationPoint Point(TomlTableReader table, string unit)
    {
        string example = $"5.00 {unit}";
        double Required(string key) => QuantityText.OptionalSigned(table, key, unit, example)
            ?? throw table.Refuse(table.Line, $"[{table.Path}] has no \"{key}\"; add it, for example {key} = \"{example}\"");
        var point = new CalibrationPoint(Required("reference"), Required("reading"),
            QuantityText.Optional(table, "u", unit, $"0.01 {unit}") ?? 0);
        table.Finish();
        return point;
    }

    private static (CalibrationPoint? Zero, IReadOnlyList<string> Files) Zero(TomlTableReader calibration, string unit,
        CorrectionModel model)
    {
        if (calibration.Table("zero") is not { } table)
        {
            return (null, []);
        }

        if (model == CorrectionModel.Gain)
        {
            throw calibration.Refuse(calibration.LineOf("zero"),
                $"{table.Path} says nothing about a gain; leave it out, or use the model gain-and-offset");
        }

        var files = table.Texts("file");
        double? reading = QuantityText.OptionalSigned(table, "reading", unit, $"0.012 {unit}");
        double? scatter = QuantityText.Optional(table, "scatter", unit, $"0.005 {unit}");
        double count = table.Number("count", 1, 1e9) ?? 1;
        if (files.Count > 0 == reading is not null || (reading is not null && scatter is not > 0))
        {
            throw table.Refuse(table.Line,
                $"{table.Path} needs either file = \"zero.csv\", or a reading with the standard deviation of its "
                + $"readings, as in {{ reading = \"0.012 {unit}\", scatter = \"0.005 {unit}\", count = 20 }}");
        }

        if (files.Count > 0 && unit != "W")
        {
            throw table.Refuse(table.LineOf("file"),
                $"{table.PathOf("file")} is for power only; give the mean reading and its scatter here");
        }

        table.Finish();
        return (reading is { } value ? new CalibrationPoint(0, value, scatter!.Value / Math.Sqrt(count)) : null, files);
    }

    private static (double From, double To) Range(TomlTableReader table, string unit, CorrectionModel model, LogQuantity quantity,
        List<CalibrationPoint> points, bool hasZero)
    {
        var ends = table.Texts("range");
        if (ends.Count > 0)
        {
            double[] stated = [.. ends.Select(e => QuantityText.Parse(table, "range", e, unit, $"0 {unit}"))];
            return stated.Length == 2 && stated[0] < stated[1]
                ? (stated[0], stated[1])
                : throw table.Refuse(table.LineOf("range"),
                    $"{table.PathOf("range")} needs its lower and its upper end, as in [\"0 {unit}\", \"20 {unit}\"]");
        }

        return model == CorrectionModel.Offset || quantity == LogQuantity.Energy ? (0, double.PositiveInfinity)
            : (hasZero ? 0 : points.Min(p => Math.Abs(p.Reading)) * (1 - Beyond), points.Max(p => Math.Abs(p.Reading)) * (1 + Beyond));
    }

    private static (double From, double To)? FactorBand(TomlTableReader table)
    {
        var ends = table.Numbers("power-factor");
        return ends.Count == 0 ? null
            : ends.Count == 2 && ends[0] >= 0 && ends[0] < ends[1] && ends[1] <= 1 ? (ends[0], ends[1])
            : throw table.Refuse(table.LineOf("power-factor"),
                $"{table.PathOf("power-factor")} needs the lower and the upper end that the calibration holds for, as in [0.4, 0.6]");
    }

    private static MeterAccuracy? Drift(TomlTableReader table, LogQuantity quantity)
    {
        const string Key = "drift-per-year";
        if (table.Text(Key) is not { } text)
        {
            return null;
        }

        string? fault = null;
        return MeterAccuracy.TryParse(text, quantity, out var drift, out fault) && drift.Clauses.All(c => c.Digits == 0)
            ? drift
            : throw table.Refuse(table.LineOf(Key), $"{table.PathOf(Key)}: {fault ?? "digits are no drift; give a share or an amount"}");
    }

    private static DateOnly? Day(TomlTableReader table, string key)
    {
        if (!table.TryGet(key, out var node))
        {
            return null;
        }

        return node.Value switch
        {
            TomlDateTime { Kind: TomlDateTimeKind.LocalDate } day => DateOnly.FromDateTime(day.DateTime.DateTime),
            string text when DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) =>
                day,
            _ => throw table.Wrong(key, "a day such as 2026-01-15"),
        };
    }
}
