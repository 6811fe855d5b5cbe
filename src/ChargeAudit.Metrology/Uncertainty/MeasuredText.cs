using System.Globalization;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// A measured value in one line. The expanded uncertainty has two digits and the value ends at the same place.
/// <i>Source:</i> JCGM 100:2008, 7.2.4 (what to state) and 7.2.6 (digits).
/// </summary>
internal static class MeasuredText
{
    // Without an uncertainty nothing says how many digits mean something; four are enough to see the size.
    private const int DigitsWithoutUncertainty = 4;

    public static string Of(Measured measured)
    {
        if (measured.Interval() is not { } interval)
        {
            return $"{Rounded(measured.Value, LastPlace(measured.Value, DigitsWithoutUncertainty))}{Unit(measured)} (uncertainty not "
                + $"known: {measured.UnknownBecause})";
        }

        double expanded = (interval.High - interval.Low) / 2;
        if (expanded == 0)
        {
            return WrittenMarks.Number(measured.Value.ToString(CultureInfo.InvariantCulture)) + Unit(measured);
        }

        int place = LastPlace(expanded, 2);
        string percent = WrittenMarks.Number((100 * interval.Coverage).ToString("0.##", CultureInfo.InvariantCulture));
        bool centred = Math.Abs(((interval.High + interval.Low) / 2) - measured.Value) <= 1e-9 * expanded;
        return centred
            ? Prose.Of(
                $"{Rounded(measured.Value, place)}{Unit(measured)} ± {Rounded(expanded, place)}{Unit(measured)} ({percent} %, k = "
                + $"{interval.CoverageFactor:F2})")
            : $"{Rounded(measured.Value, place)}{Unit(measured)} ({percent} %: {Rounded(interval.Low, place)} to "
                + $"{Rounded(interval.High, place)})";
    }

    private static string Unit(Measured measured) => measured.Unit == "1" ? "" : " " + measured.Unit;

    // The power of ten of the last of this many significant digits.
    private static int LastPlace(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return 0;
        }

        int place = (int)Math.Floor(Math.Log10(Math.Abs(value))) - digits + 1;

        // 0.0996 becomes 0.10, one place further left.
        double rounded = Math.Round(Math.Abs(value) / Math.Pow(10, place), MidpointRounding.AwayFromZero);
        return rounded >= Math.Pow(10, digits) ? place + 1 : place;
    }

    private static string Rounded(double value, int place)
    {
        double scale = Math.Pow(10, Math.Max(place, 0));
        double rounded = Math.Round(value / scale, MidpointRounding.AwayFromZero) * scale is var whole && place > 0 ? whole : value;
        return WrittenMarks.Number(
            rounded.ToString("F" + Math.Max(-place, 0).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));
    }
}
