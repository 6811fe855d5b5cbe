using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Coils;

/// <summary>All that can be said about two coils from what is known about them.</summary>
public sealed record CoilReport
{
    /// <summary>What is known.</summary>
    public required CoilData Data { get; init; }

    /// <summary>Resonance of the driven coil with its capacitor; null where one is not given. [Hz]</summary>
    public double? PrimaryResonanceHz { get; init; }

    /// <summary>Resonance of the receiving coil with its capacitor; null where one is not given. [Hz]</summary>
    public double? SecondaryResonanceHz { get; init; }

    /// <summary>The link; null where something is missing.</summary>
    public CoilLink? Link { get; init; }

    /// <summary>Without capacitors, series–series and series–parallel; empty without a link.</summary>
    public IReadOnlyList<CircuitFigures> Circuits { get; init; } = [];

    /// <summary>Series–series over frequency at the given or best load, from half to twice the operating frequency and beyond its peaks;
    /// null without a link.</summary>
    public FrequencySweep? Sweep { get; init; }

    /// <summary>Works out what follows from the data.</summary>
    /// <param name="data">What is known.</param>
    /// <returns>The report.</returns>
    /// <exception cref="InputException">Too little is known to say anything.</exception>
    public static CoilReport From(CoilData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        double? primary = data.PrimaryH is { } l1 && data.PrimaryF is { } c1 ? Resonance.FrequencyHz(l1, c1) : null;
        double? secondary = data.SecondaryH is { } l2 && data.SecondaryF is { } c2 ? Resonance.FrequencyHz(l2, c2) : null;
        if (data.Link is not { } link)
        {
            return primary is null && secondary is null && data.GeometricMutualH is null
                && (data.FrequencyHz is null || (data.PrimaryH ?? data.SecondaryH) is null)
                ? throw new InputException(InputProblem.Usage,
                    "too little is known about the coils: for a resonance give an inductance and a capacitance or a frequency; for a link "
                    + $"{string.Join(", ", data.Missing)} is missing.")
                : new CoilReport { Data = data, PrimaryResonanceHz = primary, SecondaryResonanceHz = secondary };
        }

        CompensatedLink series = data.PrimaryF is { } p && data.SecondaryF is { } s
            ? CompensatedLink.SeriesSeries(link, p, s)
            : CompensatedLink.SeriesSeries(link);
        CircuitFigures figures = CircuitFigures.Of(series, data.LoadOhm);
        return new CoilReport
        {
            Data = data,
            PrimaryResonanceHz = primary,
            SecondaryResonanceHz = secondary,
            Link = link,
            Circuits = [CircuitFigures.Of(CompensatedLink.Uncompensated(link), data.LoadOhm), figures,
                CircuitFigures.Of(CompensatedLink.SeriesParallel(link), data.LoadOhm)],
            Sweep = FrequencySweep.OfSeriesSeries(series, figures.LoadOhm),
        };
    }

    /// <summary>The report as lines for people.</summary>
    /// <returns>Plain text; lines end in line feed.</returns>
    public string ToText()
    {
        StringBuilder text = new();
        Resonances(text);
        if (Data.GeometricMutualH is { } mutual)
        {
            Line(text, "Mutual inductance", SiValue.Format(mutual, "H") + " from turns, radii, gap and offset");
        }

        if (Link is not { } link)
        {
            text.Append("For efficiency and load give also: ").AppendJoin(", ", Data.Missing).Append(".\n");
            return text.ToString();
        }

        Line(text, "Coupling", Number(link.Coupling, "F4") + ", mutual inductance " + SiValue.Format(link.MutualH, "H"));
        Line(text, "T-equivalent", SiValue.Format(link.T.PrimaryArmH, "H") + " and " + SiValue.Format(link.T.SecondaryArmH, "H")
            + " in the arms, " + SiValue.Format(link.T.ShuntH, "H") + " across");
        Line(text, "Best efficiency", Percent(link.MaximumEfficiency) + " by coupling and quality (U = " + Number(link.FigureOfMerit, "G4")
            + "); inverter and rectifier come on top");
        foreach (CircuitFigures circuit in Circuits)
        {
            Circuit(text, circuit);
        }

        Splitting(text);
        return text.ToString();
    }

    private static void Circuit(StringBuilder text, CircuitFigures c)
    {
        (string name, string capacitors) = c.Circuit.Kind switch
        {
            Compensation.None => ("Without capacitors", ""),
            Compensation.SeriesSeries => ("Series–series", Capacitors(c.Circuit)),
            _ => ("Series–parallel", Capacitors(c.Circuit)),
        };
        text.Append(name).Append(capacitors).Append('\n');
        Line(text, "  best load", SiValue.Format(c.BestLoadOhm, "Ω") + ", efficiency there " + Percent(c.BestEfficiency));
        Line(text, "  at " + SiValue.Format(c.LoadOhm, "Ω"), "efficiency " + Percent(c.Efficiency) + ", input "
            + SiValue.Format(c.InputOhm, "Ω") + " at " + Degrees(c.InputPhaseDegrees) + ", voltage × " + Number(c.VoltageTransfer, "G4"));
        Line(text, "  with no load", "voltage × " + Number(c.OpenTransfer, "G4") + ", input phase " + Degrees(c.OpenPhaseDegrees)
            + "; shorted " + Degrees(c.ShortPhaseDegrees));
    }

    private static string Capacitors(CompensatedLink circuit) =>
        ", " + SiValue.Format(circuit.PrimaryF, "F") + " and " + SiValue.Format(circuit.SecondaryF, "F");

    private static string Percent(double share) => WrittenMarks.Number((100 * share).ToString("F1", CultureInfo.InvariantCulture)) + " %";

    private static string Degrees(double degrees) => WrittenMarks.Number(degrees.ToString("F1", CultureInfo.InvariantCulture)) + "°";

    private static string Number(double value, string format) => WrittenMarks.Number(value.ToString(format, CultureInfo.InvariantCulture));

    private static void Line(StringBuilder text, string what, string value) => text.Append(what.PadRight(20)).Append(value).Append('\n');

    private void Resonances(StringBuilder text)
    {
        if (PrimaryResonanceHz is { } primary)
        {
            Line(text, "Resonance", SiValue.Format(primary, "Hz") + " of the driven coil");
        }

        if (SecondaryResonanceHz is { } secondary)
        {
            Line(text, "Resonance", SiValue.Format(secondary, "Hz") + " of the receiving coil");
        }

        if (Data.FrequencyHz is not { } frequencyHz)
        {
            return;
        }

        foreach ((string coil, double? inductanceH, double? capacitanceF) in (ReadOnlySpan<(string, double?, double?)>)
            [("driven", Data.PrimaryH, Data.PrimaryF), ("receiving", Data.SecondaryH, Data.SecondaryF)])
        {
            if (inductanceH is { } l && capacitanceF is null)
            {
                Line(text, "Capacitor", SiValue.Format(Resonance.CapacitanceF(l, frequencyHz), "F") + " resonates with the " + coil
                    + " coil at " + SiValue.Format(frequencyHz, "Hz"));
            }
        }
    }

    private void Splitting(StringBuilder text)
    {
        if (Sweep is not { } sweep)
        {
            return;
        }

        string peaks = string.Join(" and ", sweep.PeaksHz.Select(f => SiValue.Format(f, "Hz")));
        text.Append(sweep.IsSplit
            ? "Over frequency the power in the load peaks at " + peaks + ": the coupling is tight for this load and the peak is split.\n"
            : "Over frequency the power in the load has one peak, at " + peaks + ".\n");
    }
}
