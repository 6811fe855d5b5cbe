using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>What a log that still grows shows so far.</summary>
public sealed record LogSoFar
{
    /// <summary>How it is understood.</summary>
    public required LogLayout Layout { get; init; }

    /// <summary>Rows so far.</summary>
    public required long Rows { get; init; }

    /// <summary>The last of them, from the first. [s]</summary>
    public required double EndS { get; init; }

    /// <summary>Energy from the first row on. [Wh]</summary>
    public required Measured Energy { get; init; }

    /// <summary>Mean of the last ten seconds, or of the last four intervals where these are longer. [W]</summary>
    public required Measured LatestPower { get; init; }

    /// <summary>Modes in order, without holes.</summary>
    public required IReadOnlyList<ModeSpan> Modes { get; init; }

    /// <summary>The last charge; null where none has begun.</summary>
    public ChargeSoFar? Charge { get; init; }
}

/// <summary>The last charge of a log that still grows.</summary>
/// <param name="StartS">Its start. [s]</param>
/// <param name="EndS">Its end; null while it goes on. [s]</param>
/// <param name="Energy">Its energy so far. [Wh]</param>
/// <param name="RestS">Time seen since its end. [s]</param>
/// <param name="NeededS">Time that has to be seen before its end is certain: after a shorter pause the same charge may go on. [s]</param>
public sealed record ChargeSoFar(double StartS, double? EndS, Measured Energy, double RestS, double NeededS)
{
    /// <summary>Whether it has ended, and what was taken for its end cannot be a pause.</summary>
    public bool IsOver => EndS is not null && RestS > NeededS;

    internal static ChargeSoFar? Of(IReadOnlyList<ModeSpan> modes, double endS, ModeOptions options, EnergyEstimator energies)
    {
        if (modes.LastOrDefault(m => m.Mode == Mode.Charge) is not { } charge)
        {
            return null;
        }

        bool goesOn = ReferenceEquals(charge, modes[^1]);
        return new ChargeSoFar(charge.StartS, goesOn ? null : charge.EndS, energies.EnergyWh(charge.StartS, charge.EndS),
            goesOn ? 0 : endS - charge.EndS, options.LongestPauseS);
    }
}
