namespace ChargeAudit.Tests.Reach;

/// <summary>A small invented scenario that uses most keys.</summary>
internal static class ReachScenario
{
    public const string Text =
        """

        title = "Pocket phone P1: cable and pad"
        seed = 20260302
        start = "2026-03-02T18:00:00+01:00"

        [device]
        name = "Pocket phone P1 (invented)"
        battery = "0.3 Wh"
        cell-resistance = "110 mohm"
        charge-current = "1.9 A"
        charge-voltage = "4.40 V"
        termination-current = "0.195 A"
        trickle-current = "0.2 A"
        trickle-below = "3.0 V"
        top-up-drop = "25 mV"
        drain-when-full = "30 mW"
        background = "140 mW"
        background-spread = "20 %"
        burst = "0.9 W"
        burst-every = "7 min"
        burst-length = "8 s"
        charger-fixed = "25 mW"
        charger-share = "7.5 %"
        charger-resistance = "45 mohm"
        thermal-resistance = "7.5 K/W"
        thermal-time = "18 min"
        ambient = "22 °C"
        throttle-above = "39 °C"
        resume-below = "36 °C"
        throttled = "5 W"

        [adapters.mains-20]
        output = "9.12 V"
        source-resistance = "60 mohm"
        no-load = "48 mW"
        loss-share = "12 %"
        loss-resistance = "110 mohm"
        power-factor = 0.60
        half-power-factor = "0.9 W"

        [cables.cable-1m]
        resistance = "190 mohm"

        [pads.flat]
        frequency = "127.7 kHz"
        gap = "4.5 mm"
        shield-factor = 1.45
        control = "0.38 W"
        inverter-share = "8.5 %"
        inverter-resistance = "190 mohm"
        rectified = "6.8 V"
        rectifier-drop = "0.45 V"
        receiver = "70 mW"
        receiver-share = "6 %"
        waiting = "0.155 W"
        pulse = "0.55 W"
        pulse-length = "70 ms"
        pulse-every = "530 ms"

        [pads.flat.primary]
        inductance = "21 uH"
        quality = 75
        turns = 18
        inner-radius = "11.5 mm"
        outer-radius = "24 mm"

        [pads.flat.secondary]
        inductance = "12 uH"
        quality = 20
        turns = 13
        inner-radius = "10 mm"
        outer-radius = "20 mm"

        [methods.cable]
        kind = "wired"
        adapter = "mains-20"
        cable = "cable-1m"
        input-limit = "9 W"
        negotiation = "3 s"
        negotiation-power = "2.5 W"

        [methods.pad]
        kind = "inductive"
        adapter = "mains-20"
        cable = "cable-1m"
        pad = "flat"
        input-limit = "7.2 W"
        negotiation = "9 s"
        negotiation-power = "3 W"

        [meters.bench]
        point = "usb"
        samples = "instantaneous"
        interval = "5 s"
        clock-drift = "4 ppm"
        clock-spread = "300 ms"

        [meters.bench.text]
        separator = ","
        decimal = "."
        time = "iso-utc"
        time-header = "Time"

        [[meters.bench.columns]]
        quantity = "voltage"
        header = "Voltage (V)"
        step = 0.001
        accuracy = "0.05 % + 2 mV"
        noise = "0.6 mV"

        [[meters.bench.columns]]
        quantity = "current"
        header = "Current (A)"
        step = 0.0001
        accuracy = "0.1 % + 1 mA"
        noise = "0.4 mA"

        [meters.plug]
        point = "wall"
        samples = "average-ending"
        interval = "6 s"
        clock-drift = "-9 ppm"
        clock-spread = "300 ms"

        [meters.plug.text]
        separator = ";"
        decimal = ","
        time = "iso-offset"
        time-header = "Timestamp"
        carriage-return = true

        [[meters.plug.columns]]
        quantity = "voltage"
        header = "U [V]"
        step = 0.1
        noise = "20 mV"

        [[meters.plug.columns]]
        quantity = "current"
        header = "I [mA]"
        unit = "mA"
        step = 0.1
        noise = "0.1 mA"

        [[meters.plug.columns]]
        quantity = "power-factor"
        header = "PF"
        step = 0.01
        noise = 0.003

        [[meters.plug.columns]]
        quantity = "power"
        header = "P [W]"
        step = 0.001
        accuracy = "0.5 % + 10 mW"
        noise = "4 mW"

        [[meters.plug.columns]]
        quantity = "energy"
        header = "E [Wh]"
        unit = "Wh"
        step = 0.001
        accuracy = "0.5 % + 40 mWh"

        [[runs]]
        method = "cable"
        start-charge = 5
        start-spread = 0.5
        no-load-before = "4 min"
        maintenance = "5 min"

        [[runs]]
        method = "pad"
        start-charge = 5
        offset = "2.5 mm"
        offset-spread = "1.5 mm"
        background-spread = "12 %"
        mishaps = [{ meter = "bench", gap-from = "2 min", gap-length = "15 s" }, { meter = "plug", clock-ahead = "23 s" }]

        [[standby]]
        method = "pad"
        duration = "10 min"
        meters = ["plug"]

        [use]
        charges-per-week = 7

        [tariff]
        currency = "EUR"
        price = 0.31
        """;
}
