using System.Collections;
using System.Reflection;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Tests.Measuring.Summaries;

/// <summary>Whether two objects hold the same bits, field by field, whatever their types say of equality.</summary>
internal static class SameState
{
    // Spare capacity, the cell in use, and what only the reading of rows needs.
    private static readonly HashSet<(Type, string)> LeftOut =
    [
        (typeof(PowerEnvelope), "_roomAtFirst"), (typeof(PowerEnvelope), "_cell"), (typeof(PowerEnvelope), "_cellFromS"),
        (typeof(PowerEnvelope), "_cellToS"), (typeof(PowerEnvelope), "_buckets"), (typeof(CounterTrail), "_waiting"),
        (typeof(CounterTrail), "_from"), (typeof(LogLayout), "Plan"), (typeof(LogLayout), "Reshape"), (typeof(LogLayout), "ReshapeFrom"),
        (typeof(LogLayout), "Hash"), (typeof(LogLayout), "Spool"), (typeof(LogLayout), "Unpacked"),
    ];

    /// <summary>The first place where they differ; null where they do not.</summary>
    public static string? Difference(object? a, object? b, string at = "")
    {
        if (a is null || b is null)
        {
            return a is null && b is null ? null : $"{at}: {a ?? "null"} and {b ?? "null"}";
        }

        if (a is double x && b is double y)
        {
            return BitConverter.DoubleToInt64Bits(x) == BitConverter.DoubleToInt64Bits(y) ? null : $"{at}: {x:R} and {y:R}";
        }

        if (a is string or Enum or DateTimeOffset || a.GetType().IsPrimitive)
        {
            return a.Equals(b) ? null : $"{at}: {a} and {b}";
        }

        if (a is IEnumerable all && b is IEnumerable others)
        {
            object[] left = Items(all), right = Items(others);
            return left.Length != right.Length
                ? $"{at}: {left.Length} and {right.Length} entries"
                : left.Zip(right).Select((p, i) => Difference(p.First, p.Second, $"{at}[{i}]")).FirstOrDefault(d => d is not null);
        }

        if (a.GetType() != b.GetType())
        {
            return $"{at}: {a.GetType()} and {b.GetType()}";
        }

        return Fields(a.GetType()).Where(f => !LeftOut.Contains((a.GetType(), NameOf(f))))
            .Select(f => Difference(f.GetValue(a), f.GetValue(b), $"{at}.{NameOf(f)}")).FirstOrDefault(d => d is not null)
            ?? Hidden(a, b, at);
    }

    /// <summary>All that an object of a type holds.</summary>
    public static IEnumerable<FieldInfo> Fields(Type type) =>
        type.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic);

    /// <summary>A field's name, or that of the property or parameter that it stands behind.</summary>
    public static string NameOf(FieldInfo field) => field.Name.StartsWith('<')
        ? field.Name[1..field.Name.IndexOf('>', StringComparison.Ordinal)]
        : field.Name;

    // The contents of fields that were left out because they have spare capacity.
    private static string? Hidden(object a, object b, string at) => (a, b) switch
    {
        (PowerEnvelope x, PowerEnvelope y) => Difference(x.State().Cells, y.State().Cells, $"{at}.cells"),
        (CounterTrail x, CounterTrail y) => Difference(x.State().Waiting, y.State().Waiting, $"{at}.waiting"),
        _ => null,
    };

    private static object[] Items(IEnumerable all) => all is IDictionary
        ? [.. all.Cast<object>().OrderBy(o => o.ToString(), StringComparer.Ordinal)]
        : [.. all.Cast<object>()];
}
