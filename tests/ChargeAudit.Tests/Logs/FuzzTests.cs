using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using CsCheck;

namespace ChargeAudit.Tests.Logs;

/// <summary>Whatever the bytes are, a log is read or refused with one sentence; nothing else comes out.</summary>
public sealed class FuzzTests
{
    private static readonly string[] Seeds =
    [
        "time (s),U (V),I (A)\n" + Rows(30, i => $"{i},5.0{i % 10},1.{i % 7}"),
        "time;voltage;current;P (W)\n" + Rows(30, i => $"27.05.2031 18:30:{i:00};5,0{i % 10};1,{i % 7};5,{i % 9}"),
        "# made up\nDate\tTime\tE (kWh)\n" + Rows(30, i => $"2031-05-27\t18:{i:00}:00\t100.{i:000}"),
        "t  U  I\n" + Rows(30, i => $"  {i}   5.0  1.0"),
        "\"time\",\"power (mW)\"\r\n" + Rows(30, i => $"\"2031-05-27T18:30:{i:00}.5Z\",\"{5000 + i}\"\r"),
        "<?xml version=\"1.0\"?><feed xmlns=\"http://www.w3.org/2005/Atom\"><entry><content><ReadingType xmlns=\"http://naesb.org/espi\">"
            + "<accumulationBehaviour>4</accumulationBehaviour><intervalLength>900</intervalLength>"
            + "<uom>72</uom></ReadingType></content></entry>"
            + "<entry><content><IntervalBlock xmlns=\"http://naesb.org/espi\">"
            + "<interval><duration>1800</duration><start>1900000000</start></interval>"
            + "<IntervalReading><value>1</value></IntervalReading><IntervalReading><value>2</value></IntervalReading>"
            + "</IntervalBlock></content></entry></feed>",
    ];

    private static readonly string[] Tokens =
    [
        ",", ";", "\t", "\n", "\r\n", "\r", "\"", "\"\"", ".", "-", "+", "e", "E9999", "NaN", "OL", "0", "99999999999999999999999999",
            "1e308", "-1e-320", ":", "T", "Z", "+99:99", "/", "#",
        "time", "U (V)", "sep=|", "\0", "\uFEFF", "µ", "31/12/2031", "24:60:61", "Total", "2031-13-45", "&amp;", "<!ENTITY x \"y\">",
            "</feed>", " ", "   ", "\u00A0", "(", "[mV]",
    ];

    private static readonly string[] InLine = [.. Tokens.Where(t => !t.Any(c => c is '\n' or '\r' or '#'))];

    private static readonly Gen<byte[]> Mutated =
        from seed in Gen.Int[0, Seeds.Length - 1]
        from changes in Gen.Select(Gen.Int[0, 5], Gen.Int[0, 100_000], Gen.Int[0, 255]).Array[1, 12]
        select Mutate(Encoding.UTF8.GetBytes(Seeds[seed]), changes);

    [Fact]
    public void A_mutated_log_is_read_or_refused() => Mutated.Sample(bytes => ReadsOrRefuses(bytes), seed: "0000000000002", iter: 1500);

    [Fact]
    public void Noise_is_read_or_refused() =>
        Gen.Byte.Array[0, 400].Sample(bytes => ReadsOrRefuses(bytes), seed: "0000000000003", iter: 500);

    [Fact]
    public void Tokens_in_any_order_are_read_or_refused() =>
        Gen.Int[0, Tokens.Length - 1].Select(i => Tokens[i]).Array[0, 120].Select(t => Encoding.UTF8.GetBytes(string.Concat(t)))
            .Sample(bytes => ReadsOrRefuses(bytes), seed: "0000000000004", iter: 1000);

    [Fact]
    public void Every_row_of_a_damaged_log_is_a_sample_or_counted() => Check.Sample(
        Gen.Select(Gen.Int[0, 199], Gen.Int[0, InLine.Length - 1].Select(i => InLine[i]), Gen.Int[0, 3]).Array[1, 8],
        damages =>
        {
            string[] rows = [.. Enumerable.Range(0, 200).Select(i => $"{i},5.00,1.00")];
            foreach (var (row, token, place) in damages)
            {
                rows[row] = rows[row].Insert(Math.Min(rows[row].Length, place * 3), token);
            }

            LogText.Read read = LogText.Of("t (s),U (V),I (A)\n" + string.Join('\n', rows) + "\n");
            int inNotes = read.Outcome.Notes.Count == 0 ? 0 : 8;
            long told = read.Outcome.Rows + read.Outcome.RowsSkipped;
            return read.Outcome.Rows == read.Samples.Count && told <= 200 && told >= 200 - inNotes;
        },
        seed: "0000000000005",
        iter: 300);

    private static bool ReadsOrRefuses(byte[] bytes)
    {
        try
        {
            LogText.Read read = LogText.Of(bytes, new LogOptions { MaxBadRowShare = 0.5 });
            return read.Outcome.Rows == read.Samples.Count
                && read.Samples.All(s => double.IsFinite(s.TimeS))
                && read.Samples.Zip(read.Samples.Skip(1), (a, b) => b.TimeS >= a.TimeS).All(rising => rising);
        }
        catch (InputException e)
        {
            return !e.Message.Any(char.IsControl) && e.Message.EndsWith('.');
        }
    }

    private static byte[] Mutate(byte[] seed, (int Kind, int Place, int Value)[] changes)
    {
        List<byte> bytes = [.. seed];
        foreach (var (kind, place, value) in changes)
        {
            int at = place % Math.Max(1, bytes.Count);
            switch (kind)
            {
                case 0 when bytes.Count > 0:
                    bytes[at] = (byte)value;
                    break;
                case 1:
                    bytes.Insert(at, (byte)value);
                    break;
                case 2 when bytes.Count > 0:
                    bytes.RemoveRange(at, Math.Min(value, bytes.Count - at));
                    break;
                case 3:
                    bytes.InsertRange(at, Encoding.UTF8.GetBytes(Tokens[value % Tokens.Length]));
                    break;
                case 4:
                    bytes.InsertRange(at, bytes.Skip(at).Take(value).ToArray());
                    break;
                default:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
            }
        }

        return [.. bytes];
    }

    private static string Rows(int count, Func<int, string> row) => string.Concat(Enumerable.Range(0, count).Select(i => row(i) + "\n"));
}
