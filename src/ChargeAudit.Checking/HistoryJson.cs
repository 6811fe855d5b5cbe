using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>One line of a history.</summary>
internal static class HistoryJson
{
    /// <summary>Name and version of a line.</summary>
    public const string Schema = "chargeaudit-history/1";

    /// <summary>What every line starts with.</summary>
    public const string Start = "{\"schema\":\"" + Schema + "\"";

    public static string Line(HistoryEntry entry)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("schema", Schema);
            json.WriteString("time", entry.Time);
            json.WriteString("candidate", entry.Candidate);
            json.WriteString("candidateSha256", entry.CandidateSha256);
            json.WriteString("baselineSha256", entry.BaselineSha256);
            json.WriteString("verdict", StableName.Of(entry.Verdict));
            json.WriteString("device", entry.Device);
            json.WriteStartArray("figures");
            foreach (var f in entry.Figures)
            {
                json.WriteStartObject();
                json.WriteString("method", f.Method);
                json.WriteString("point", StableName.Of(f.Point));
                json.WriteString("figure", StableName.Of(f.Figure));
                json.WriteString("unit", f.Unit);
                json.WriteNumber("candidate", f.Candidate);
                json.WriteNumber("candidateRuns", f.CandidateRuns);
                Number(json, "candidateScatter", f.CandidateScatter);
                json.WriteNumber("baseline", f.Baseline);
                json.WriteNumber("baselineRuns", f.BaselineRuns);
                Number(json, "baselineScatter", f.BaselineScatter);
                json.WriteString("verdict", StableName.Of(f.Verdict));
                json.WriteStartArray("meters");
                foreach (string meter in f.Meters)
                {
                    json.WriteStringValue(meter);
                }

                json.WriteEndArray();
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(bytes.ToArray());
    }

    public static bool TryRead(ReadOnlyMemory<byte> line, out HistoryEntry? entry)
    {
        entry = null;
        try
        {
            using var document = JsonDocument.Parse(line);
            var e = document.RootElement;
            if (e.GetProperty("schema").GetString() != Schema)
            {
                return false;
            }

            entry = new HistoryEntry(
                e.GetProperty("time").GetDateTimeOffset(),
                e.GetProperty("candidate").GetString()!,
                e.GetProperty("candidateSha256").GetString()!,
                e.GetProperty("baselineSha256").GetString()!,
                Member<CheckVerdict>(e.GetProperty("verdict")),
                e.GetProperty("device").GetString(),
                [.. e.GetProperty("figures").EnumerateArray().Select(Figure)]);
            return true;
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            return false;
        }
    }

    private static HistoryFigure Figure(JsonElement f) => new(
        f.GetProperty("method").GetString()!,
        Member<MeasuringPoint>(f.GetProperty("point")),
        Member<CheckedFigure>(f.GetProperty("figure")),
        f.GetProperty("unit").GetString()!,
        f.GetProperty("candidate").GetDouble(),
        f.GetProperty("candidateRuns").GetInt32(),
        f.GetProperty("candidateScatter") is { ValueKind: JsonValueKind.Number } a ? a.GetDouble() : null,
        f.GetProperty("baseline").GetDouble(),
        f.GetProperty("baselineRuns").GetInt32(),
        f.GetProperty("baselineScatter") is { ValueKind: JsonValueKind.Number } b ? b.GetDouble() : null,
        Member<CheckVerdict>(f.GetProperty("verdict")),
        [.. f.GetProperty("meters").EnumerateArray().Select(m => m.GetString()!)]);

    private static void Number(Utf8JsonWriter json, string name, double? value)
    {
        if (value is { } number && double.IsFinite(number))
        {
            json.WriteNumber(name, number);
        }
        else
        {
            json.WriteNull(name);
        }
    }

    private static T Member<T>(JsonElement word)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (word.ValueEquals(StableName.Of(value)))
            {
                return value;
            }
        }

        throw new FormatException($"{word} is no {typeof(T).Name}");
    }
}
