using System.Globalization;
using System.Text;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Metering;

/// <summary>Writes the text of a log in a meter's own dialect.</summary>
internal sealed class RowText
{
    private readonly MeterDialect _dialect;
    private readonly DateTimeOffset _start;
    private readonly string _timeFormat;
    private readonly string[] _formats;
    private readonly StringBuilder _text = new();

    public RowText(MeterModel meter, DateTimeOffset start)
    {
        _dialect = meter.Dialect;
        _start = start;
        string fraction = _dialect.TimeDigits > 0 ? "'.'" + new string('f', _dialect.TimeDigits) : "";
        _timeFormat = _dialect.Time switch
        {
            TimeForm.IsoOffset => $"yyyy-MM-dd'T'HH:mm:ss{fraction}zzz",
            TimeForm.IsoUtc => $"yyyy-MM-dd'T'HH:mm:ss{fraction}'Z'",
            TimeForm.DateAndClock => $"yyyy-MM-dd|HH:mm:ss{fraction}",
            _ => $"yyyy-MM-dd' 'HH:mm:ss{fraction}",
        };
        _formats = [.. meter.Columns.Select(c => "F" + Digits(c.Step).ToString(CultureInfo.InvariantCulture))];
        foreach (string line in _dialect.Preamble)
        {
            _text.Append(line);
            EndLine();
        }

        _text.Append(_dialect.TimeHeader.Replace('|', _dialect.Separator));
        foreach (MeterColumn column in meter.Columns)
        {
            _text.Append(_dialect.Separator).Append(column.Header);
        }

        EndLine();
    }

    /// <summary>Writes a row.</summary>
    /// <param name="clockS">The meter's clock, counted from the run's start. [s]</param>
    /// <param name="elapsedS">From the log's first row. [s]</param>
    /// <param name="values">Rounded readings in the columns' units.</param>
    public void Row(double clockS, double elapsedS, ReadOnlySpan<double> values)
    {
        WriteTime(clockS, elapsedS);
        for (int i = 0; i < values.Length; i++)
        {
            _text.Append(_dialect.Separator);
            Number(values[i].ToString(_formats[i], CultureInfo.InvariantCulture));
        }

        EndLine();
    }

    public override string ToString() => _text.ToString();

    private static int Digits(double step)
    {
        int digits = 0;
        double scaled = step;
        while (digits < 12 && (scaled < 0.5 || Math.Abs(scaled - Math.Round(scaled)) > 1e-6 * scaled))
        {
            scaled *= 10;
            digits++;
        }

        return digits;
    }

    private void WriteTime(double clockS, double elapsedS)
    {
        DateTimeOffset stamp = _start.AddTicks((long)Math.Round(clockS * TimeSpan.TicksPerSecond));
        string format = "F" + _dialect.TimeDigits.ToString(CultureInfo.InvariantCulture);
        switch (_dialect.Time)
        {
            case TimeForm.Elapsed:
                Number(elapsedS.ToString(format, CultureInfo.InvariantCulture));
                break;
            case TimeForm.EpochSeconds:
                Number((stamp.ToUnixTimeMilliseconds() / 1000.0).ToString(format, CultureInfo.InvariantCulture));
                break;
            case TimeForm.EpochMilliseconds:
                _text.Append(CultureInfo.InvariantCulture, $"{stamp.ToUnixTimeMilliseconds()}");
                break;
            case TimeForm.IsoUtc:
                _text.Append(stamp.UtcDateTime.ToString(_timeFormat, CultureInfo.InvariantCulture));
                break;
            case TimeForm.DateAndClock:
                _text.Append(stamp.ToString(_timeFormat, CultureInfo.InvariantCulture).Replace('|', _dialect.Separator));
                break;
            default:
                _text.Append(stamp.ToString(_timeFormat, CultureInfo.InvariantCulture));
                break;
        }
    }

    private void Number(string text) => _text.Append(_dialect.DecimalSign == '.' ? text : text.Replace('.', _dialect.DecimalSign));

    private void EndLine() => _text.Append(_dialect.CarriageReturn ? "\r\n" : "\n");
}
