using ChargeAudit.Logs;
using ChargeAudit.Simulation.Physics;

namespace ChargeAudit.Simulation.Metering;

/// <summary>True values at a measuring point, for a moment or as means over an interval.</summary>
/// <param name="PowerW">Real power. [W]</param>
/// <param name="VoltageV">Voltage. [V]</param>
/// <param name="CurrentA">Current. [A]</param>
internal readonly record struct TrueReading(double PowerW, double VoltageV, double CurrentA);

/// <summary>Reads a trace forwards, as a meter does.</summary>
internal sealed class TraceReader(PowerTrace trace, MeasuringPoint point)
{
    private int _index;

    /// <summary>The values at a moment; moments must not fall.</summary>
    public TrueReading At(double timeS)
    {
        while (_index < trace.Steps.Count - 1 && trace.Steps[_index].EndS <= timeS)
        {
            _index++;
        }

        FlowStep step = trace.Steps[_index];
        return new TrueReading(step.PowerW(point), step.VoltageV(point), step.CurrentA(point));
    }

    /// <summary>The means over an interval, pulses included; intervals must follow one another.</summary>
    public TrueReading Mean(double fromS, double toS)
    {
        TrueReading first = At(fromS);
        double powerWs = 0;
        double voltageVs = 0;
        double currentAs = 0;
        double nowS = fromS;
        while (nowS < toS)
        {
            FlowStep step = trace.Steps[_index];
            bool last = _index == trace.Steps.Count - 1;
            double untilS = last ? toS : Math.Min(toS, step.EndS);
            powerWs += step.PowerW(point) * (untilS - nowS);
            voltageVs += step.VoltageV(point) * (untilS - nowS);
            currentAs += step.CurrentA(point) * (untilS - nowS);
            nowS = untilS;
            if (!last && step.EndS <= nowS)
            {
                _index++;
            }
        }

        double lengthS = toS - fromS;
        return lengthS > 0 ? new TrueReading(powerWs / lengthS, voltageVs / lengthS, currentAs / lengthS) : first;
    }
}
