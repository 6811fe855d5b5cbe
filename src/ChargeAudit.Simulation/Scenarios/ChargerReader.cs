using ChargeAudit.Coils;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>Reads the adapters, cables and pads of a scenario file.</summary>
internal static class ChargerReader
{
    public static AdapterModel Adapter(string name, ScenarioTable t)
    {
        AdapterModel adapter = new()
        {
            Name = name,
            OutputV = t.Positive("output", "V"),
            SourceOhm = t.SizeOr("source-resistance", "Ω", 0),
            NoLoadW = t.Size("no-load", "W"),
            Share = t.SizeOr("loss-share", "%", 0),
            LossOhm = t.SizeOr("loss-resistance", "Ω", 0),
            PowerFactor = t.SizeOr("power-factor", "1", 0.6),
            HalfPowerFactorW = t.SizeOr("half-power-factor", "W", 0.8),
        };
        if (adapter.LossOhm < adapter.SourceOhm)
        {
            throw t.Problem("loss-resistance",
                "the loss resistance holds the source resistance and cannot be smaller; correct one of them");
        }

        t.End();
        return adapter;
    }

    public static CableModel Cable(string name, ScenarioTable t)
    {
        CableModel cable = new(name, t.Size("resistance", "Ω"));
        t.End();
        return cable;
    }

    public static PadModel Pad(string name, ScenarioTable t)
    {
        PadModel pad = new()
        {
            Name = name,
            Primary = Coil(t.Table("primary")),
            Secondary = Coil(t.Table("secondary")),
            GapM = t.Positive("gap", "m"),
            ShieldFactor = t.SizeOr("shield-factor", "1", 1),
            FrequencyHz = t.Positive("frequency", "Hz"),
            ControlW = t.SizeOr("control", "W", 0),
            InverterShare = t.SizeOr("inverter-share", "%", 0),
            InverterOhm = t.SizeOr("inverter-resistance", "Ω", 0),
            RectifiedV = t.Positive("rectified", "V"),
            RectifierDropV = t.SizeOr("rectifier-drop", "V", 0),
            ReceiverW = t.SizeOr("receiver", "W", 0),
            ReceiverShare = t.SizeOr("receiver-share", "%", 0),
            WaitingW = t.SizeOr("waiting", "W", 0),
            PulseW = t.SizeOr("pulse", "W", 0),
            PulseLengthS = t.SizeOr("pulse-length", "s", 0),
            PulseEveryS = t.SizeOr("pulse-every", "s", 0),
        };
        if (pad.PulseEveryS > 0 && pad.PulseLengthS >= pad.PulseEveryS)
        {
            throw t.Problem("pulse-length", "a pulse must be shorter than the time from one to the next; correct one of them");
        }

        t.End();
        return pad;
    }

    private static CoilModel Coil(ScenarioTable t)
    {
        CoilModel coil = new(t.Positive("inductance", "H"), t.Positive("quality", "1"), new CoilGeometry
        {
            Turns = t.Has("turns")
                ? t.CountOr("turns", 1)
                : throw t.Problem("turns", "the key 'turns' is missing; give the number of turns"),
            InnerRadiusM = t.Positive("inner-radius", "m"),
            OuterRadiusM = t.Positive("outer-radius", "m"),
            Layers = t.CountOr("layers", 1),
            LayerSpacingM = t.SizeOr("layer-spacing", "m", 0),
        });
        t.End();
        return coil;
    }
}
