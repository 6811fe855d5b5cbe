using ChargeAudit.Logs.Numbers;

namespace ChargeAudit.Logs.Dialects;

/// <summary>A column of the first look whose fields are all plain numbers, read once for all that ask about them.</summary>
internal sealed class PlainColumn(IReadOnlyList<SampleRows> runs)
{
    private int _places = -2;

    /// <summary>The numbers of each run of rows.</summary>
    public IReadOnlyList<double[]> Values { get; } = [.. runs.Select(r => new double[r.Count])];

    /// <summary>The first field with the most decimals.</summary>
    public string Finest { get; private set; } = "";

    /// <summary>Fields with decimals that cannot be thousands.</summary>
    public int Decimals { get; private set; }

    /// <summary>Fields whose decimals might be thousands.</summary>
    public int MayBeGrouped { get; private set; }

    /// <summary>Takes a field.</summary>
    /// <param name="field">The field.</param>
    /// <param name="mark">What stands before its decimals.</param>
    /// <param name="run">Its run of rows.</param>
    /// <param name="row">Its row in the run.</param>
    /// <returns>Whether it is a plain number.</returns>
    public bool Take(ReadOnlySpan<char> field, char mark, int run, int row)
    {
        if (!PlainNumber.TryRead(field, mark, out int places, out Values[run][row]))
        {
            return false;
        }

        if (places > _places)
        {
            (_places, Finest) = (places, field.ToString());
        }

        bool grouped = PlainNumber.MayBeGrouped(field, places);
        MayBeGrouped += grouped ? 1 : 0;
        Decimals += places > 0 && !grouped ? 1 : 0;
        return true;
    }
}
