using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// The integrals over rows that follow one another in one cell of the envelope, kept apart until the cell is left: one addition for each
/// row instead of one to the cell and one to the log. Two sums stand side by side in a register, each with its compensation, so that
/// nothing is lost in the joining. The default value has summed nothing.
/// </summary>
/// <remarks>The rounding error of an addition comes without a comparison of the two terms. <i>Source:</i> D. E. Knuth, The Art of Computer
/// Programming 2, 4.2.2, theorem B (from memory).</remarks>
internal struct RunSums
{
    private Vector128<double> _energyAndTime;
    private Vector128<double> _energyAndTimeLost;
    private Vector128<double> _voltsAndCharge;
    private Vector128<double> _voltsAndChargeLost;
    private Vector128<double> _squared;
    private Vector128<double> _squaredLost;

    /// <summary>Integral of power. [J]</summary>
    public readonly CompensatedSum EnergyJ => new(_energyAndTime[0], _energyAndTimeLost[0]);

    /// <summary>Time. [s]</summary>
    public readonly CompensatedSum CoveredS => new(_energyAndTime[1], _energyAndTimeLost[1]);

    /// <summary>Integral of voltage. [V·s]</summary>
    public readonly CompensatedSum VoltSeconds => new(_voltsAndCharge[0], _voltsAndChargeLost[0]);

    /// <summary>Integral of current. [C]</summary>
    public readonly CompensatedSum ChargeC => new(_voltsAndCharge[1], _voltsAndChargeLost[1]);

    /// <summary>Integral of the squared current. [A²·s]</summary>
    public readonly CompensatedSum SquaredCurrentS => new(_squared[0], _squaredLost[0]);

    /// <summary>Adds a stretch over which power, voltage and current run in straight lines.</summary>
    /// <param name="fromW">Power at its start. [W]</param>
    /// <param name="toW">Power at its end. [W]</param>
    /// <param name="meanV">Mean voltage. [V]</param>
    /// <param name="meanA">Mean current. [A]</param>
    /// <param name="lengthS">Its length. [s]</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void Add(double fromW, double toW, double meanV, double meanA, double lengthS)
    {
        var length = Vector128.Create(lengthS);
        Add(ref _energyAndTime, ref _energyAndTimeLost, Vector128.Create(0.5 * (fromW + toW), 1) * length);
        Add(ref _voltsAndCharge, ref _voltsAndChargeLost, Vector128.Create(meanV, meanA) * length);
        Add(ref _squared, ref _squaredLost, Vector128.Create(meanA * meanA * lengthS, 0));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Add(ref Vector128<double> sum, ref Vector128<double> lost, Vector128<double> term)
    {
        var total = sum + term;
        var taken = total - sum;
        lost += (sum - (total - taken)) + (term - taken);
        sum = total;
    }
}
