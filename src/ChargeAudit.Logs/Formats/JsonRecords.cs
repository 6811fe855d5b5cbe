using System.Text.Json;

namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Records of a JSON text: objects that follow one another, or are in an array, or rows of an array of arrays whose first row holds the
/// names, or below an array of as many names. The array may be the text itself or a property of its object. What an object holds in
/// further objects is named with a point between; what it holds in arrays is left out.
/// </summary>
internal sealed class JsonRecords(string path, Stream stream, bool lines)
{
    private readonly JsonTokens _tokens = new(path, stream);
    private readonly List<string> _texts = [];
    private string[] _namesBefore = [];
    private string[]? _names;
    private bool _inArray;
    private bool _found;
    private bool _ended;

    /// <summary>Reads the next record.</summary>
    /// <returns>Its fields; null at the end.</returns>
    public List<(string Name, string Value)>? Next()
    {
        while (!_ended && _tokens.Read())
        {
            switch (_tokens.Type)
            {
                case JsonTokenType.StartObject when lines || _inArray:
                    var record = new List<(string, string)>();
                    ReadObject("", record);
                    return record;
                case JsonTokenType.StartArray when _inArray:
                    List<string> row = ReadRow(out bool hasNumbers);
                    _names ??= hasNumbers && _namesBefore.Length == row.Count ? _namesBefore : null;
                    if (_names is not null)
                    {
                        return [.. row.Select((value, i) => (i < _names.Length ? _names[i] : $"field {i + 1}", value))];
                    }

                    _names = [.. row];
                    break;
                case JsonTokenType.StartArray:
                    _inArray = true;
                    break;
                case JsonTokenType.EndArray when _inArray && (_names is not null || _found):
                    // The first array of records is the log; what comes after it is not.
                    _ended = true;
                    break;
                case JsonTokenType.EndArray:
                    _inArray = false;
                    _namesBefore = _texts.Count > 0 ? [.. _texts] : _namesBefore;
                    _texts.Clear();
                    break;
                case JsonTokenType.String when _inArray && _texts.Count <= LogLimits.MostColumns:
                    _texts.Add(_tokens.Text);
                    break;
                default:
                    break;
            }
        }

        return null;
    }

    private void ReadObject(string prefix, List<(string Name, string Value)> record)
    {
        _found = true;
        string name = prefix;
        while (_tokens.Read() && _tokens.Type != JsonTokenType.EndObject)
        {
            switch (_tokens.Type)
            {
                case JsonTokenType.PropertyName:
                    name = prefix.Length > 0 ? $"{prefix}.{_tokens.Text}" : _tokens.Text;
                    break;
                case JsonTokenType.StartObject:
                    ReadObject(name, record);
                    break;
                case JsonTokenType.StartArray:
                    PassArray();
                    break;
                default:
                    record.Add((name, _tokens.Text));
                    if (record.Count > LogLimits.MostColumns)
                    {
                        throw LogErrors.JsonTooLarge(path, $"a record of more than {LogLimits.MostColumns} fields");
                    }

                    break;
            }
        }
    }

    private List<string> ReadRow(out bool hasNumbers)
    {
        List<string> row = [];
        hasNumbers = false;
        while (_tokens.Read() && _tokens.Type != JsonTokenType.EndArray)
        {
            switch (_tokens.Type)
            {
                case JsonTokenType.StartArray:
                    PassArray();
                    break;
                case JsonTokenType.StartObject:
                    ReadObject("", []);
                    break;
                default:
                    hasNumbers |= _tokens.Type == JsonTokenType.Number;
                    row.Add(_tokens.Text);
                    break;
            }

            if (row.Count > LogLimits.MostColumns)
            {
                throw LogErrors.JsonTooLarge(path, $"a row of more than {LogLimits.MostColumns} fields");
            }
        }

        return row;
    }

    private void PassArray()
    {
        for (int depth = 1; depth > 0 && _tokens.Read();)
        {
            depth += _tokens.Type == JsonTokenType.StartArray ? 1 : _tokens.Type == JsonTokenType.EndArray ? -1 : 0;
        }
    }
}
