using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>Reads scenario files: device, methods and runs. Chargers stand in <see cref="ChargerReader"/>, meters in
/// <see cref="MeterReader"/>.</summary>
internal static class ScenarioReader
{
    public static SimulationScenario Read(string toml, string file)
    {
        ScenarioTable root = ScenarioTable.Root(toml, file);
        string title = root.Text("title");
        ulong seed = (ulong)root.SizeOr("seed", "1", 1);
        DateTimeOffset start = Start(root);
        DeviceModel device = Device(root.Table("device"));
        List<AdapterModel> adapters = [.. root.Named("adapters").Select(a => ChargerReader.Adapter(a.Name, a.Table))];
        List<CableModel> cables = [.. root.Named("cables").Select(c => ChargerReader.Cable(c.Name, c.Table))];
        List<PadModel> pads = [.. root.Named("pads").Select(p => ChargerReader.Pad(p.Name, p.Table))];
        List<MethodModel> methods = [.. root.Named("methods").Select(m => Method(m.Name, m.Table, adapters, cables, pads))];
        List<MeterModel> meters = [.. root.Named("meters").Select(m => MeterReader.Read(m.Name, m.Table))];
        if (methods.Count == 0 || meters.Count == 0)
        {
            throw root.Problem("methods", "a scenario needs at least one [methods.NAME] and one [meters.NAME]; add them");
        }

        List<RunPlan> runs = Runs(root, start, methods, meters);
        List<RunPlan> waiting = Waiting(root, start.AddDays(runs.Count), methods, meters);
        SimulationScenario scenario = new()
        {
            Title = title,
            Seed = seed,
            Device = device,
            Methods = methods,
            Meters = meters,
            Runs = runs,
            Waiting = waiting,
            Family = Family(root.TableOr("family"), methods),
            Use = Use(root.TableOr("use")),
            Tariff = Tariff(root.TableOr("tariff")),
        };
        root.End();
        return scenario;
    }

    private static DateTimeOffset Start(ScenarioTable root)
    {
        string text = root.TextOr("start", "2026-03-02T18:00:00+01:00")!;
        return DateTimeOffset.TryParseExact(text, "yyyy-MM-dd'T'HH:mm:sszzz", CultureInfo.InvariantCulture, DateTimeStyles.None,
            out DateTimeOffset start)
            ? start
            : throw root.Problem("start",
                $"'start' is '{text}', expected a date and time with offset in quotes, such as \"2026-03-02T18:00:00+01:00\"");
    }

    private static DeviceModel Device(ScenarioTable t)
    {
        DeviceModel device = new()
        {
            Name = t.Text("name"),
            BatteryWh = t.Positive("battery", "Wh"),
            Curve = Curve(t),
            CellOhm = t.Positive("cell-resistance", "Ω"),
            ChargeCurrentA = t.Positive("charge-current", "A"),
            ChargeVoltageV = t.Positive("charge-voltage", "V"),
            TerminationCurrentA = t.Positive("termination-current", "A"),
            TrickleBelowV = t.SizeOr("trickle-below", "V", 3.0),
            TrickleCurrentA = t.Positive("trickle-current", "A"),
            TopUpDropV = t.SizeOr("top-up-drop", "V", 0),
            DrainWhenFullW = t.SizeOr("drain-when-full", "W", 0),
            BackgroundW = t.SizeOr("background", "W", 0),
            BackgroundSpread = t.SizeOr("background-spread", "%", 0.1),
            BurstW = t.SizeOr("burst", "W", 0),
            BurstEveryS = t.PositiveOr("burst-every", "s", 300),
            BurstLengthS = t.SizeOr("burst-length", "s", 5),
            ChargerFixedW = t.SizeOr("charger-fixed", "W", 0),
            ChargerShare = t.SizeOr("charger-share", "%", 0),
            ChargerOhm = t.SizeOr("charger-resistance", "Ω", 0),
            ThermalKPerW = t.SizeOr("thermal-resistance", "K/W", 6),
            ThermalTimeS = t.PositiveOr("thermal-time", "s", 900),
            AmbientC = t.ValueOr("ambient", "°C", 22),
            ThrottleAboveC = t.ValueOr("throttle-above", "°C", double.PositiveInfinity),
            ResumeBelowC = t.ValueOr("resume-below", "°C", t.ValueOr("throttle-above", "°C", double.PositiveInfinity)),
            ThrottledW = t.PositiveOr("throttled", "W", double.PositiveInfinity),
        };
        if (device.ChargeVoltageV > device.Curve.VoltageV(1) + 1e-9 || device.TerminationCurrentA >= device.ChargeCurrentA)
        {
            throw t.Problem("charge-voltage",
                "the charge voltage must not lie above the curve's end and the termination current must lie below the charge current; "
                + "correct them");
        }

        // Behind its resistance a cell of E volts can feed at most E²/(4·R), with half of E at its terminals.
        double mostW = Math.Pow(device.Curve.VoltageV(0), 2) / (4 * device.CellOhm);
        if (device.DrainWhenFullW > mostW)
        {
            throw t.Problem("drain-when-full", InvariantText.Of(
                $"'drain-when-full' is {device.DrainWhenFullW:G3} W, and a cell of {device.Curve.VoltageV(0):0.##} V behind a "
                    + $"'cell-resistance' of {device.CellOhm:G3} Ω can feed {mostW:G3} W at most; correct one of them."));
        }

        t.End();
        return device;
    }

    private static FamilyModel? Family(ScenarioTable? t, List<MethodModel> methods)
    {
        if (t is null)
        {
            return null;
        }

        var family = new FamilyModel(t.CountOr("devices", 5), t.ShareOr("receiver-spread", 0), t.ShareOr("battery-spread", 0),
            t.ShareOr("interaction-spread", 0));
        double least = methods.Select(m => m.Pad?.ReceiverShare ?? double.PositiveInfinity).Min();
        if (least < FamilyModel.Reach * Math.Max(family.ReceiverSpread, 0) + (FamilyModel.Reach * family.InteractionSpread))
        {
            throw t.Problem("receiver-spread", InvariantText.Of(
                $"a device may differ by {FamilyModel.Reach} spreads, and a pad's 'receiver-share' is {100 * least:0.#} %; make that "
                    + $"greater, or the spreads smaller"));
        }

        t.End();
        return family;
    }

    private static OpenCircuitCurve Curve(ScenarioTable t)
    {
        if (!t.Has("open-circuit"))
        {
            return OpenCircuitCurve.LithiumCobalt;
        }

        try
        {
            return new OpenCircuitCurve([.. t.Pairs("open-circuit").Select(p => (p.First / 100, p.Second))]);
        }
        catch (ArgumentException)
        {
            throw t.Problem("open-circuit",
                "the curve must give pairs of charge in % and voltage, from 0 to 100 %, both rising; correct them");
        }
    }

    private static MethodModel Method(string name, ScenarioTable t, List<AdapterModel> adapters, List<CableModel> cables,
        List<PadModel> pads)
    {
        MethodKind kind = t.Choice<MethodKind>("kind", null, ("wired", MethodKind.Wired), ("inductive", MethodKind.Inductive));
        MethodModel method = new()
        {
            Name = name,
            Kind = kind,
            Adapter = t.Pick("adapter", adapters, a => a.Name),
            Cable = t.Pick("cable", cables, c => c.Name),
            Pad = kind == MethodKind.Inductive ? t.Pick("pad", pads, p => p.Name) : null,
            InputLimitW = t.PositiveOr("input-limit", "W", double.PositiveInfinity),
            NegotiationS = t.SizeOr("negotiation", "s", 0),
            NegotiationW = t.PositiveOr("negotiation-power", "W", double.PositiveInfinity),
        };
        t.End();
        return method;
    }

    private static List<RunPlan> Runs(ScenarioTable root, DateTimeOffset start, List<MethodModel> methods, List<MeterModel> meters)
    {
        List<RunPlan> runs = [];
        foreach (ScenarioTable t in root.List("runs"))
        {
            MethodModel method = t.Pick("method", methods, m => m.Name);
            int number = 1 + runs.Count(r => r.Method == method);
            RunPlan plan = new()
            {
                Id = InvariantText.Of($"{method.Name}-{number}"),
                Method = method,
                Start = start,
                StartShare = t.Has("start-charge") ? t.ShareOr("start-charge", 0)
                    : throw t.Problem("start-charge", "the key 'start-charge' is missing; give the state of charge in %"),
                StartSpread = t.SizeOr("start-spread", "%", 0),
                NoLoadBeforeS = t.SizeOr("no-load-before", "s", 180),
                MaintenanceS = t.SizeOr("maintenance", "s", 1500),
                NoLoadAfterS = t.SizeOr("no-load-after", "s", 0),
                OffsetM = t.SizeOr("offset", "m", 0),
                OffsetSpreadM = t.SizeOr("offset-spread", "m", 0),
                BackgroundSpread = t.SizeOr("background-spread", "%", 0),
                Meters = MetersOf(t, meters),
                Mishaps = Mishaps(t, MetersOf(t, meters)),
                Exclude = t.TextOr("exclude", null),
            };
            int repeat = t.CountOr("repeat", 1);
            var places = Places(t, method);
            t.End();
            foreach (var place in Enumerable.Range(0, repeat).SelectMany(_ => places))
            {
                string id = InvariantText.Of($"{method.Name}-{number++}");
                runs.Add(plan with { Id = id, Start = start.AddDays(runs.Count), Place = place });
            }
        }

        return runs;
    }

    // The positions once through, so that repeats of one position lie apart in time and a slow drift does not look like a place.
    private static IReadOnlyList<PlannedPlace?> Places(ScenarioTable t, MethodModel method)
    {
        double? gapM = t.Has("gap") ? t.Size("gap", "m") : null;
        if (!t.Has("positions-mm"))
        {
            return gapM is null
                ? [null]
                : throw t.Problem("gap",
                    "'gap' needs 'positions-mm'; say where the device lies, such as [[0, 0]], or give the pad its gap");
        }

        if (method.Pad is null || t.Has("offset"))
        {
            throw t.Problem("positions-mm", method.Pad is null ? "a method by cable has no positions; take 'positions-mm' out"
                : "'positions-mm' and 'offset' say the same; keep one of them");
        }

        var pairs = t.Pairs("positions-mm");
        return pairs.Count > 0
            ? [.. pairs.Select(p => new PlannedPlace(p.First / 1000, p.Second / 1000, gapM))]
            : throw t.Problem("positions-mm", "the list is empty; give pairs such as [[0, 0], [4, 0]]");
    }

    private static List<RunPlan> Waiting(ScenarioTable root, DateTimeOffset start, List<MethodModel> methods, List<MeterModel> meters)
    {
        List<RunPlan> waiting = [];
        foreach (ScenarioTable t in root.List("standby"))
        {
            MethodModel method = t.Pick("method", methods, m => m.Name);
            waiting.Add(new RunPlan
            {
                Id = method.Name + "-waiting",
                Method = method,
                Start = start.AddDays(waiting.Count),
                NoLoadBeforeS = t.Positive("duration", "s"),
                Meters = MetersOf(t, meters),
                Mishaps = Mishaps(t, MetersOf(t, meters)),
            });
            t.End();
        }

        return waiting;
    }

    private static List<MeterModel> MetersOf(ScenarioTable t, List<MeterModel> meters)
    {
        if (!t.Has("meters"))
        {
            return meters;
        }

        return [.. t.Texts("meters").Select(name => meters.Find(m => m.Name == name)
            ?? throw t.Problem("meters", $"there is no meter '{name}'; the meters are {string.Join(", ", meters.Select(m => m.Name))}"))];
    }

    private static List<LogMishap> Mishaps(ScenarioTable t, List<MeterModel> meters)
    {
        List<LogMishap> mishaps = [];
        foreach (ScenarioTable m in t.List("mishaps"))
        {
            LogMishap mishap = new()
            {
                Meter = m.Pick("meter", meters, x => x.Name).Name,
                ClockAheadS = m.ValueOr("clock-ahead", "s", 0),
                GapFromS = m.ValueOr("gap-from", "s", double.NaN),
                GapLengthS = m.SizeOr("gap-length", "s", 0),
                CounterResetAtS = m.ValueOr("counter-reset", "s", double.NaN),
            };
            if (double.IsNaN(mishap.GapFromS) != (mishap.GapLengthS == 0))
            {
                throw m.Problem("gap-from", "a gap needs both 'gap-from' and a 'gap-length' above zero; give both or none");
            }

            if (mishaps.Exists(x => x.Meter == mishap.Meter))
            {
                throw m.Problem("meter", $"a run has one entry of mishaps for a meter, and '{mishap.Meter}' has two; put them into one");
            }

            mishaps.Add(mishap);
            m.End();
        }

        return mishaps;
    }

    private static Use? Use(ScenarioTable? t)
    {
        if (t is null)
        {
            return null;
        }

        Use use = new()
        {
            ChargesPerWeek = t.SizeOr("charges-per-week", "1", 7),
            ChargeSharePercent = 100 * t.SizeOr("charge-share", "%", 1),
            HoursOnChargerPerCharge = t.Has("hours-on-charger-per-charge") ? t.Positive("hours-on-charger-per-charge", "1") : null,
            PluggedInAllDay = t.FlagOr("plugged-in-all-day", true),
        };
        t.End();
        return use;
    }

    private static Tariff? Tariff(ScenarioTable? t)
    {
        if (t is null)
        {
            return null;
        }

        Tariff tariff = new(t.Text("currency"), t.Size("price", "1"));
        t.End();
        return tariff;
    }
}
