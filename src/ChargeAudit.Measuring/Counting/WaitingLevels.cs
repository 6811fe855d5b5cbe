namespace ChargeAudit.Measuring.Counting;

/// <summary>What the waiting charger takes, where that is known.</summary>
/// <param name="LevelsW">Levels that it is known to stand at; empty where nothing tells. [W]</param>
/// <param name="MostW">The greatest that it may take, where another log shows that to so far only; else zero. [W]</param>
internal readonly record struct WaitingLevels(IReadOnlyList<double> LevelsW, double MostW)
{
    /// <summary>What is drawn below this is nothing. [W]</summary>
    public const double NothingW = 0.01;

    /// <summary>A level within this share of the waiting charger's is the waiting charger's. [1]</summary>
    public const double Alike = 0.3;

    /// <summary>Whether a power is one of the levels.</summary>
    public bool Hold(double powerW) => powerW < NothingW || LevelsW.Any(w => Math.Abs(powerW - w) <= Alike * w);

    /// <summary>Whether one of the levels fits a line.</summary>
    public bool Fit(CounterLine line) =>
        line.LeastW < NothingW || LevelsW.Any(w => (1 + Alike) * w >= line.LeastW && (1 - Alike) * w <= line.MostW);
}
