using System.Text;
using System.Text.Json;

namespace ChargeAudit.Logs.Formats;

/// <summary>Tokens of a JSON text one after the other, in memory that does not grow with it.</summary>
internal sealed class JsonTokens(string path, Stream stream)
{
    // A longer token than this belongs to no log.
    private const int LongestToken = 1 << 20;

    private byte[] _buffer = new byte[1 << 16];
    private int _from;
    private int _to;
    private bool _ended;
    private JsonReaderState _state = new(new JsonReaderOptions
    {
        AllowMultipleValues = true,
        AllowTrailingCommas = true,
        CommentHandling = JsonCommentHandling.Skip,
        MaxDepth = 32,
    });

    /// <summary>Kind of the token.</summary>
    public JsonTokenType Type { get; private set; }

    /// <summary>Name, text or number as written; empty for null and for brackets.</summary>
    public string Text { get; private set; } = "";

    /// <summary>Goes on to the next token.</summary>
    /// <returns>Whether there is one.</returns>
    public bool Read()
    {
        try
        {
            while (true)
            {
                var reader = new Utf8JsonReader(_buffer.AsSpan(_from.._to), _ended, _state);
                if (reader.Read())
                {
                    Type = reader.TokenType;
                    Text = Type switch
                    {
                        JsonTokenType.PropertyName or JsonTokenType.String => reader.GetString()!,
                        JsonTokenType.Number or JsonTokenType.True or JsonTokenType.False => Encoding.UTF8.GetString(reader.ValueSpan),
                        _ => "",
                    };
                    _from += (int)reader.BytesConsumed;
                    _state = reader.CurrentState;
                    return true;
                }

                _from += (int)reader.BytesConsumed;
                _state = reader.CurrentState;
                if (_ended)
                {
                    return false;
                }

                Fill();
            }
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            throw LogErrors.Corrupt(path, "JSON", e);
        }
    }

    private void Fill()
    {
        _buffer.AsSpan(_from.._to).CopyTo(_buffer);
        (_from, _to) = (0, _to - _from);
        if (_to == _buffer.Length)
        {
            if (_buffer.Length >= LongestToken)
            {
                throw LogErrors.JsonTooLarge(path, $"a text longer than {LongestToken} bytes");
            }

            Array.Resize(ref _buffer, 2 * _buffer.Length);
        }

        int read = stream.Read(_buffer, _to, _buffer.Length - _to);
        _ended = read == 0;
        _to += read;
        if (_to >= 3 && _buffer.AsSpan(0, 3).SequenceEqual("\uFEFF"u8) && _from == 0 && Type == JsonTokenType.None)
        {
            _from = 3;
        }
    }
}
