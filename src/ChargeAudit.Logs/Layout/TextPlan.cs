using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Layout;

/// <summary>One column that the row reader reads.</summary>
/// <param name="Index">Position in the row, from 0.</param>
/// <param name="Quantity">What it holds.</param>
/// <param name="Factor">Coherent units per unit of the column.</param>
/// <param name="Kind">Which units a field may carry itself.</param>
/// <param name="BlankIsNormal">Whether empty fields are usual in this column and no fault.</param>
/// <param name="Header">Its name, for faults.</param>
internal sealed record FieldPlan(int Index, LogQuantity Quantity, double Factor, UnitKind Kind, bool BlankIsNormal, string Header)
{
    /// <summary>What is added after the factor.</summary>
    public double Offset { get; init; }

    /// <summary>A number of the column in the coherent unit.</summary>
    public double Coherent(double number) => (number * Factor) + Offset;
}

/// <summary>What the row reader needs and the public layout does not show.</summary>
internal sealed record TextPlan
{
    public required TextEncoding Encoding { get; init; }

    /// <summary>Byte between fields; a tab where blanks were run together.</summary>
    public required byte Separator { get; init; }

    /// <summary>Whether runs of blanks separate the fields.</summary>
    public required bool BlankRuns { get; init; }

    public required NumberStyle Numbers { get; init; }

    public required long FirstDataLine { get; init; }

    public required int FieldCount { get; init; }

    /// <summary>Rows with fewer fields than <see cref="FieldCount"/> but at least this many hold all that is read.</summary>
    public required int FewestFields { get; init; }

    /// <summary>Header fields as they stand, to know them again further down; empty where there is no header.</summary>
    public required IReadOnlyList<string> HeaderFields { get; init; }

    public required IReadOnlyList<FieldPlan> Fields { get; init; }

    public required TimePlan Time { get; init; }
}
