using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>
/// Makes one JSON document: indented, lines end with a line feed, no byte-order mark. Only what JSON itself asks for is escaped: the
/// document is a file or standard output, and is never part of a page.
/// </summary>
internal static class JsonText
{
    /// <summary>The document that a function writes inside one object.</summary>
    public static string Document(string schema, Action<Utf8JsonWriter> members)
    {
        using var bytes = new MemoryStream();
        var options = new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (var json = new Utf8JsonWriter(bytes, options))
        {
            json.WriteStartObject();
            json.WriteString("schema", schema);
            members(json);
            json.WriteEndObject();
        }

        return WrittenMarks.ExactJson(Encoding.UTF8.GetString(bytes.ToArray())) + "\n";
    }

    /// <summary>A list of objects.</summary>
    public static void Objects<T>(this Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> members)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            members(item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>A list of strings.</summary>
    public static void Strings(this Utf8JsonWriter json, string name, IEnumerable<string> items)
    {
        json.WriteStartArray(name);
        foreach (string item in items)
        {
            json.WriteStringValue(item);
        }

        json.WriteEndArray();
    }

    /// <summary>An object.</summary>
    public static void Object(this Utf8JsonWriter json, string name, Action members)
    {
        json.WriteStartObject(name);
        members();
        json.WriteEndObject();
    }

    /// <summary>A number; null where it is not known or not finite.</summary>
    public static void Number(this Utf8JsonWriter json, string name, double? value)
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

    /// <summary>A number; where it is not known, null with its reason.</summary>
    public static void Number(this Utf8JsonWriter json, string name, double? value, string whyNot)
    {
        if (value is { } number && double.IsFinite(number))
        {
            json.WriteNumber(name, number);
        }
        else
        {
            json.Missing(name, whyNot);
        }
    }

    /// <summary>A value that is not known, with its reason beside it.</summary>
    public static void Missing(this Utf8JsonWriter json, string name, string? reason)
    {
        json.WriteNull(name);
        json.WriteString(name + "Reason", reason ?? "not known");
    }
}
