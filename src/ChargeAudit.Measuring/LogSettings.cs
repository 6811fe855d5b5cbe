using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring;

/// <summary>What a request states about a log that decides how it is read, setting by setting, in words; what was not stated is left
/// out.</summary>
internal static class LogSettings
{
    /// <summary>Name of the setting that says where the power comes from, where a log holds more than one source.</summary>
    public const string PowerFrom = "power from";

    /// <summary>Name of the setting that says where the meter sat.</summary>
    public const string Point = "point";

    /// <summary>The settings.</summary>
    public static SortedDictionary<string, string> Of(MeasureRequest request)
    {
        var options = LogReading.OptionsOf(request);
        var said = new SortedDictionary<string, string>(StringComparer.Ordinal);
        void Say(string name, string? text)
        {
            if (text is not null)
            {
                said[name] = text;
            }
        }

        Say(Point, options.Point is { } point ? StableName.Of(point) : null);
        foreach (var (quantity, column) in options.Columns)
        {
            Say($"columns.{StableName.Of(quantity)}", InvariantText.Of($"{column.Header} at {column.Position} in {column.Unit}"));
        }

        Say("series", options.Series);
        Say("samples", options.Samples is { } samples ? StableName.Of(samples) : null);
        Say("change-threshold", options.ChangeThreshold is { } change
            ? InvariantText.Of($"{change.Amount:R} of {StableName.Of(change.Quantity)}, share {change.IsShare}, look {change.LookS:R}")
            : null);
        Say("timezone", options.TimeZone);
        Say("date-order", options.DateOrder is { } order ? StableName.Of(order) : null);
        Say("interval", options.FixedIntervalS is { } interval ? InvariantText.Of($"{interval:R} s") : null);
        Say("sign", options.Sign == FlowSign.AsWritten ? null : StableName.Of(options.Sign));
        Say("gaps", options.Gaps == GapPolicy.Bridge ? null : StableName.Of(options.Gaps));
        Say("strict", options.Strict ? "yes" : null);
        Say("max-bad-rows", InvariantText.Of($"{options.MaxBadRowShare:R}"));
        Say("from", Time(request.From));
        Say("to", Time(request.To));
        Say(PowerFrom, request.Source is { } source ? StableName.Of(source) : null);
        return said;
    }

    /// <summary>
    /// The request completed with what was stated when a summary was made and the request leaves open: a summary named in place of its log
    /// stands for the log as it was described then. Only what decides more than the reading of rows is taken over.
    /// </summary>
    /// <param name="request">The request.</param>
    /// <param name="said">What was stated when the log was summarized.</param>
    public static MeasureRequest Completed(MeasureRequest request, IReadOnlyDictionary<string, string> said)
    {
        var options = LogReading.OptionsOf(request);
        var gaps = Word<GapPolicy>(said, "gaps");
        return request with
        {
            Point = options.Point ?? Word<MeasuringPoint>(said, Point),
            Meter = gaps is { } policy && options.Gaps == GapPolicy.Bridge
                ? (request.Meter ?? new Meter { Name = "command-line" }) with { Options = options with { Gaps = policy } }
                : request.Meter,
        };
    }

    /// <summary>The measuring point that was stated; null where none was.</summary>
    public static MeasuringPoint? PointOf(IReadOnlyDictionary<string, string> said) => Word<MeasuringPoint>(said, Point);

    /// <summary>Whether a setting that is not stated now stands as it was stated when the log was summarized.</summary>
    public static bool IsTakenOver(string name) => name is not ("from" or "to" or PowerFrom or "max-bad-rows");

    private static T? Word<T>(IReadOnlyDictionary<string, string> said, string name)
        where T : struct, Enum => said.TryGetValue(name, out string? word)
        ? Enum.GetValues<T>().Where(v => StableName.Of(v) == word).Select(v => (T?)v).FirstOrDefault()
        : null;

    /// <summary>Those that decide how a log is understood, whatever stretch of it is summed.</summary>
    public static IEnumerable<KeyValuePair<string, string>> OfLook(MeasureRequest request) => OfLook(Of(request));

    /// <summary>Likewise of settings that were written down.</summary>
    public static IEnumerable<KeyValuePair<string, string>> OfLook(IReadOnlyDictionary<string, string> said) =>
        said.Where(s => s.Key is not ("from" or "to" or PowerFrom or "strict")).OrderBy(s => s.Key, StringComparer.Ordinal);

    private static string? Time(LogTime? time) => time is null ? null
        : time.ElapsedS is { } elapsed ? InvariantText.Of($"{elapsed:R} s")
        : InvariantText.Of($"{time.Absolute:O}{(time.HasOffset ? "" : " on its clock")}");
}
