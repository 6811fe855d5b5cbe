namespace ChargeAudit.LogMaker.Traces;

/// <summary>A rectangular burst on top of whatever else flows.</summary>
/// <param name="StartS">Since the trace began. [s]</param>
/// <param name="LengthS">[s]</param>
/// <param name="Height">In the trace's unit.</param>
public readonly record struct Burst(double StartS, double LengthS, double Height);

/// <summary>A quantity over time, exactly: pieces one after another, with bursts on top.</summary>
public sealed class Trace
{
    private readonly Piece[] _pieces;
    private readonly double[] _startsS;
    private readonly double[] _integrals;
    private readonly Burst[] _bursts;

    public Trace(IEnumerable<Piece> pieces, IEnumerable<Burst>? bursts = null)
    {
        _pieces = [.. pieces];
        _bursts = [.. bursts ?? []];
        _startsS = new double[_pieces.Length + 1];
        _integrals = new double[_pieces.Length + 1];
        for (int i = 0; i < _pieces.Length; i++)
        {
            _startsS[i + 1] = _startsS[i] + _pieces[i].LengthS;
            _integrals[i + 1] = _integrals[i] + _pieces[i].IntegralTo(_pieces[i].LengthS);
        }
    }

    /// <summary>[s]</summary>
    public double LengthS => _startsS[^1];

    /// <summary>The value at a moment; before the beginning and after the end that of the first and the last moment.</summary>
    public double At(double tS)
    {
        int i = IndexOf(tS);
        double value = _pieces[i].At(Math.Clamp(tS - _startsS[i], 0, _pieces[i].LengthS));
        foreach (Burst b in _bursts)
        {
            if (tS >= b.StartS && tS < b.StartS + b.LengthS)
            {
                value += b.Height;
            }
        }

        return value;
    }

    /// <summary>The integral between two moments.</summary>
    public double Integral(double fromS, double toS) => IntegralTo(toS) - IntegralTo(fromS);

    /// <summary>The mean between two moments.</summary>
    public double Mean(double fromS, double toS) => Integral(fromS, toS) / (toS - fromS);

    private double IntegralTo(double tS)
    {
        int i = IndexOf(tS);
        double sum = _integrals[i] + _pieces[i].IntegralTo(Math.Clamp(tS - _startsS[i], 0, _pieces[i].LengthS));
        foreach (Burst b in _bursts)
        {
            sum += b.Height * Math.Clamp(tS - b.StartS, 0, b.LengthS);
        }

        return sum;
    }

    private int IndexOf(double tS)
    {
        int found = Array.BinarySearch(_startsS, tS);
        return Math.Clamp(found >= 0 ? found : ~found - 1, 0, _pieces.Length - 1);
    }
}
