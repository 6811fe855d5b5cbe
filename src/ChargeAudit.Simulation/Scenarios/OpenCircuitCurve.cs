namespace ChargeAudit.Simulation.Scenarios;

/// <summary>
/// Open-circuit voltage of a cell over its state of charge, straight between given points, and the energy under it in closed form. The step
/// of a simulation takes its mean voltage from that energy, so that no energy is lost to the step's length.
/// </summary>
public sealed class OpenCircuitCurve
{
    private readonly double[] _share;
    private readonly double[] _voltageV;
    private readonly double[] _areaV;

    /// <summary>Makes a curve.</summary>
    /// <param name="points">State of charge from 0 to 1, rising, first 0 and last 1; and the voltage there, not falling. [1], [V]</param>
    /// <exception cref="ArgumentException">The points are not as described.</exception>
    public OpenCircuitCurve(IReadOnlyList<(double Share, double VoltageV)> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 2 || points[0].Share != 0 || points[^1].Share != 1 || points[0].VoltageV <= 0)
        {
            throw new ArgumentException("An open-circuit curve needs points from 0 to 100 % with voltages above 0.", nameof(points));
        }

        _share = [.. points.Select(p => p.Share)];
        _voltageV = [.. points.Select(p => p.VoltageV)];
        _areaV = new double[points.Count];
        for (int i = 1; i < points.Count; i++)
        {
            if (_share[i] <= _share[i - 1] || _voltageV[i] < _voltageV[i - 1])
            {
                throw new ArgumentException("The points of an open-circuit curve must rise in charge and not fall in voltage.",
                    nameof(points));
            }

            _areaV[i] = _areaV[i - 1] + ((_share[i] - _share[i - 1]) * (_voltageV[i] + _voltageV[i - 1]) / 2);
        }
    }

    /// <summary>
    /// A lithium-ion cell with a cobalt-oxide cathode charged to 4.40 V. Its shape is common practice, drawn by hand; no source and no
    /// maker's data.
    /// </summary>
    public static OpenCircuitCurve LithiumCobalt { get; } = new(
    [
        (0, 3.20), (0.02, 3.42), (0.05, 3.58), (0.10, 3.68), (0.20, 3.75), (0.30, 3.79), (0.40, 3.82), (0.50, 3.87),
        (0.60, 3.95), (0.70, 4.04), (0.80, 4.14), (0.90, 4.26), (1, 4.40),
    ]);

    /// <summary>Mean voltage from empty to full. [V]</summary>
    public double MeanV => _areaV[^1];

    /// <summary>Voltage at a state of charge; the outermost pieces go on beyond 0 and 1.</summary>
    /// <param name="share">State of charge. [1]</param>
    /// <returns>Open-circuit voltage. [V]</returns>
    public double VoltageV(double share)
    {
        int i = Piece(share);
        return _voltageV[i] + ((share - _share[i]) * Slope(i));
    }

    /// <summary>Integral of the voltage from empty.</summary>
    /// <param name="share">State of charge. [1]</param>
    /// <returns>Energy stored per unit of capacity. [V]</returns>
    public double AreaV(double share)
    {
        int i = Piece(share);
        double step = share - _share[i];
        return _areaV[i] + (step * (_voltageV[i] + (step * Slope(i) / 2)));
    }

    private double Slope(int i) => (_voltageV[i + 1] - _voltageV[i]) / (_share[i + 1] - _share[i]);

    private int Piece(double share)
    {
        int i = 0;
        while (i < _share.Length - 2 && share >= _share[i + 1])
        {
            i++;
        }

        return i;
    }
}
