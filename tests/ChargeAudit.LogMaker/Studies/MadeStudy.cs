using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>The headline figures of an audit.</summary>
public enum FigureKind
{
    Energy,
    Ratio,
    NoLoad,
    Maintenance,
    YearEnergy,
    YearCost,
}

/// <summary>A true value, and what it is the value of.</summary>
/// <param name="Figure">Which figure.</param>
/// <param name="Method">Name of the method; of a ratio the one above the line.</param>
/// <param name="Place">Where.</param>
/// <param name="Value">In the figure's unit: Wh, 1, W, kWh or the currency.</param>
/// <param name="Meter">The meter that it comes from.</param>
/// <param name="IdealHalfWidth">Half the interval of somebody who knows limits, scatter and borders.</param>
public sealed record TrueFigure(FigureKind Figure, string Method, Place Place, double Value, MeterSheet Meter, double IdealHalfWidth);

/// <summary>When the charge of a log ran, and what it took.</summary>
/// <param name="File">Name of the log.</param>
/// <param name="StartS">Start of the charge, since the log's first row. [s]</param>
/// <param name="EndS">Its end. [s]</param>
/// <param name="RemovedS">When the device was removed, or the log ends. [s]</param>
/// <param name="EnergyWh">Energy of this one charge. [Wh]</param>
/// <param name="MaintenanceW">Power when full, in this run. [W]</param>
/// <param name="NoLoadW">Power while waiting. [W]</param>
public sealed record TrueCharge(string File, double StartS, double EndS, double RemovedS, double EnergyWh, double MaintenanceW,
    double NoLoadW);

/// <summary>A study as a user would hand it in, and the truth beside it.</summary>
public sealed record MadeStudy
{
    public required ulong Seed { get; init; }

    /// <summary>Text of each file by its name; <c>study.toml</c> among them.</summary>
    public required IReadOnlyDictionary<string, string> Files { get; init; }

    public required IReadOnlyList<TrueFigure> Truths { get; init; }

    /// <summary>The charge of each run's log.</summary>
    public required IReadOnlyList<TrueCharge> Charges { get; init; }

    /// <summary>What was made, in a few words.</summary>
    public required string Summary { get; init; }

    /// <summary>Writes all files.</summary>
    /// <returns>Path of the study file.</returns>
    public string WriteTo(string folder)
    {
        Directory.CreateDirectory(folder);
        foreach ((string name, string text) in Files)
        {
            File.WriteAllText(Path.Combine(folder, name), text);
        }

        return Path.Combine(folder, "study.toml");
    }
}
