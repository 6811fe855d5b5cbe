using System.Globalization;
using System.Text;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Columns of numbers are read as the framework's own parser reads each of them: it rounds correctly.</summary>
public sealed class PlainRowsTests
{
    [Theory]
    [InlineData(1, 1, "\n")]
    [InlineData(2, 40, "\n")]
    [InlineData(3, 400, "\n")]
    [InlineData(4, 4000, "\n")]
    [InlineData(5, 1000, "\r\n")]
    public void Numbers_of_any_length_are_exactly_rounded(int seed, int alike, string lineEnd)
    {
        // This many rows in a row have the same number of digits before and after the point; some have a sign in place of the first digit.
        var dice = new Random(seed);
        var numbers = new List<string>();
        while (numbers.Count < Math.Max(6000, 3 * alike))
        {
            int places = dice.Next(0, 10), whole = dice.Next(places == 0 ? 1 : 0, 16 - places);
            for (int i = 0; i < alike; i++)
            {
                string digits = string.Concat(Enumerable.Range(0, whole).Select(_ => (char)('0' + dice.Next(10))));
                string sign = dice.Next(alike < 1000 ? 9 : 900) == 0 ? "-" : "";
                digits = sign.Length > 0 && whole > 1 && dice.Next(2) == 0 ? digits[1..] : digits;
                numbers.Add(sign + digits + (places == 0 ? "" : "." + string.Concat(
                    Enumerable.Range(0, places).Select(_ => (char)('0' + dice.Next(10))))));
            }
        }

        var read = Read(numbers, lineEnd);

        Assert.NotNull(read);
        Assert.Equal(numbers.Select(n => BitConverter.DoubleToInt64Bits(double.Parse(n, CultureInfo.InvariantCulture))),
            read.Select(BitConverter.DoubleToInt64Bits));
    }

    [Theory]
    [InlineData("1.25", "1:25")]
    [InlineData("1.25", "1.2/")]
    [InlineData("1.25", "/.25")]
    [InlineData("123456789.25", "12345678:.25")]
    [InlineData("123456789.25", ":23456789.25")]
    [InlineData("1.25", "")]
    [InlineData("1.25", "-")]
    [InlineData("1.25", "-.")]
    [InlineData("1.25", "--1.25")]
    [InlineData("1.25", "1.2.5")]
    [InlineData("9007199254740991", "9007199254740993")]
    public void What_is_no_plain_number_is_left_to_the_row_reader(string before, string odd)
    {
        Assert.NotNull(Read([before, before, before]));
        Assert.Null(Read([odd]));
        Assert.Null(Read([before, before, odd, before]));

        // After more rows than are looked at in one go: those that follow are read as the ones before them were.
        Assert.Null(Read([.. Enumerable.Repeat(before, 3000), odd, before]));
    }

    // Power as read; null where the rows are left to the other reader.
    private static List<double>? Read(IReadOnlyList<string> numbers, string lineEnd = "\n")
    {
        var plan = LogText.Of("t (s),P (W)\n0,1.5\n1,1.5\n2,1.5\n3,1.5\n").Layout.Plan!;
        byte[] rows = Encoding.ASCII.GetBytes(string.Concat(numbers.Select((n, i) => InvariantText.Of($"{i},{n}{lineEnd}"))));
        var sink = new Powers();
        return PlainRows.For(plan)!.TryRead([.. rows, .. new byte[Marks.Block]], rows.Length, 0, 10, 1, sink, out _) ? sink.PowersW : null;
    }

    private sealed class Powers : IRowBlockSink
    {
        public List<double> PowersW { get; } = [];

        public void Add(in RowBlock rows) => PowersW.AddRange(rows.Of(LogQuantity.Power));
    }
}
