using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies.Drafting;

/// <summary>What a user said about all logs, as lines of a meter's table.</summary>
internal static class ToldText
{
    public static IEnumerable<string> Lines(LogOptions? told)
    {
        if (told is null)
        {
            yield break;
        }

        if (told.DateOrder is { } order)
        {
            yield return $"date-order = {TomlText.Quoted(MeterReader.DateOrders.First(o => o.Order == order).Word)}";
        }

        if (told.Series is { } series)
        {
            yield return $"series = {TomlText.Quoted(series)}";
        }

        if (told.Samples is { } samples)
        {
            yield return $"samples = {TomlText.Quoted(MeterReader.SampleKinds.First(k => k.Kind == samples).Word)}";
        }

        if (told.TimeZone is { } zone)
        {
            yield return $"timezone = {TomlText.Quoted(zone)}";
        }

        if (told.FixedIntervalS is { } interval)
        {
            yield return InvariantText.Of($"interval = \"{interval} s\"");
        }

        if (told.Columns.Count > 0)
        {
            var columns = told.Columns.Select(c =>
                $"{MeterReader.Quantities.First(q => q.Quantity == c.Key).Word} = {Choice(c.Value)}");
            yield return $"columns = {{ {string.Join(", ", columns)} }}";
        }
    }

    private static string Choice(ColumnChoice choice)
    {
        string at = choice.Position is int position
            ? InvariantText.Of($"position = {position}")
            : $"header = {TomlText.Quoted(choice.Header ?? "")}";
        return choice.Unit is { } unit ? $"{{ {at}, unit = {TomlText.Quoted(unit)} }}" : $"{{ {at} }}";
    }
}
