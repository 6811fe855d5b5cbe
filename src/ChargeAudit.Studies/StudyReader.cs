using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads a study file. Whatever it does not understand it refuses, with the line and the nearest known key.</summary>
public static class StudyReader
{
    private static readonly (string Word, MethodKind Kind)[] Kinds = [("wired", MethodKind.Wired), ("inductive", MethodKind.Inductive)];

    /// <summary>Reads a study file from disk; log paths in it are relative to it.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="InputException">The file is missing, is not TOML, or says something that no study can say.</exception>
    public static Study Load(string path)
    {
        if (Directory.Exists(path))
        {
            throw new InputException(InputProblem.Missing,
                $"{path} is a folder; name the study file in it, such as {Path.Combine(path, "study.toml")}");
        }

        string text;
        try
        {
            text = File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            string why = e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.');
            throw new InputException(InputProblem.Missing, $"{path} cannot be read: {why}; check the path of the study file", e);
        }

        return Read(path, text, Path.GetDirectoryName(Path.GetFullPath(path))!);
    }

    /// <summary>Reads a study from text.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="text">Its text.</param>
    /// <param name="folder">Folder that relative log paths start from.</param>
    /// <exception cref="InputException">The text is not TOML, or says something that no study can say.</exception>
    public static Study Read(string file, string text, string folder)
    {
        var document = new TomlTableReader(file, "", TomlNode.Parse(file, text));
        var meters = Meters(document);
        var methods = Methods(document);
        var runs = Runs(document, methods, meters);
        var study = new Study
        {
            Title = document.Text("title") ?? Path.GetFileNameWithoutExtension(file),
            Reference = ReferenceOf(document, methods),
            Device = document.Table("device") is { } device ? Device(device) : new DeviceInfo(),
            Meters = meters,
            Methods = methods,
            Runs = runs,
            Standby = StandbyLogs(document, methods, meters),
            Use = document.Table("use") is { } use ? UseReader.Use(use) : new Use(),
            Tariff = document.Table("tariff") is { } tariff ? UseReader.Tariff(tariff) : null,
            Check = document.Table("check") is { } check ? CheckReader.Read(check) : new CheckRules(),
            Folder = folder,
        };
        study = FactorsReader.Into(ModesReader.Into(SurroundingsReader.Into(study, document), document), document);
        document.Finish();
        return study;
    }

    private static DeviceInfo Device(TomlTableReader table)
    {
        var device = new DeviceInfo
        {
            Name = table.Text("name"),
            BatteryWh = QuantityText.Optional(table, "battery", "Wh", "15.4 Wh"),
            BatteryDischargeWh = QuantityText.Optional(table, "battery-discharge", "Wh", "14.9 Wh"),
            BatteryDischargeWithinWh = QuantityText.Optional(table, "battery-discharge-within", "Wh", "0.1 Wh"),
        };
        device = SurroundingsReader.Into(device, table);
        table.Finish();
        return device is { BatteryDischargeWithinWh: { } within } && !(within < device.BatteryDischargeWh)
            ? throw table.Refuse(table.LineOf("battery-discharge-within"), device.BatteryDischargeWh is null
                ? $"{table.PathOf("battery-discharge-within")} goes with battery-discharge, which is not given; give both, or neither"
                : $"{table.PathOf("battery-discharge-within")} is as large as battery-discharge itself; the half-width was expected, such "
                    + "as \"0.1 Wh\"")
            : device;
    }

    private static Dictionary<string, Meter> Meters(TomlTableReader document)
    {
        var meters = new Dictionary<string, Meter>(StringComparer.Ordinal);
        if (document.Table("meters") is { } all)
        {
            foreach (var (name, table) in all.Tables())
            {
                meters.Add(name, MeterReader.Read(name, table));
            }
        }

        return meters;
    }

    private static List<Method> Methods(TomlTableReader document)
    {
        var methods = new List<Method>();
        foreach (var (name, table) in document.Table("methods")?.Tables() ?? [])
        {
            var kind = table.Choice("kind", Kinds)
                ?? throw table.Refuse(table.Line, $"[{table.Path}] has no \"kind\"; add kind = \"wired\" or kind = \"inductive\"");
            methods.Add(SurroundingsReader.Into(new Method(name, kind, table.Table("use") is { } use ? UseReader.Override(use) : null),
                table) with
            { Coils = CoilsReader.Of(kind, table) });
            table.Finish();
        }

        return methods.Count > 0
            ? methods
            : throw document.Refuse(1,
                "the study names no method; add at least two, such as [methods.cable] with kind = \"wired\" and [methods.pad] with kind = "
                + "\"inductive\"");
    }

    private static string ReferenceOf(TomlTableReader document, List<Method> methods)
    {
        if (document.Text("reference") is { } named)
        {
            return methods.Any(m => m.Name == named) ? named : throw UnknownMethod(document, "reference", named, methods);
        }

        var wired = methods.Where(m => m.Kind == MethodKind.Wired).ToList();
        return wired.Count == 1
            ? wired[0].Name
            : throw document.Refuse(1,
                $"the study has {wired.Count} methods by cable and does not say which one the others are compared with; add reference = "
                + $"\"{methods[0].Name}\"");
    }

    private static List<Run> Runs(TomlTableReader document, List<Method> methods, Dictionary<string, Meter> meters)
    {
        var runs = new List<Run>();
        var numbers = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var table in document.ListOfTables("runs"))
        {
            string method = MethodOf(table, methods);
            numbers[method] = numbers.GetValueOrDefault(method) + 1;
            string id = table.Text("id") ?? $"{method}-{numbers[method]}";
            if (runs.Any(r => r.Id == id))
            {
                throw table.Refuse(table.Line, $"two runs have the id \"{id}\"; give each its own");
            }

            runs.Add(new Run
            {
                Id = id,
                Method = method,
                Logs = LogsOf(table, meters),
                StartChargePercent = table.Number("start-charge", 0, 100),
                EndChargePercent = table.Number("end-charge", 0, 100),
                From = table.Time("from"),
                To = table.Time("to"),
                Session = (int?)table.Number("session", 1, 10_000),
                FullAt = table.Time("full-at"),
                TemperatureC = TemperatureText.Optional(table, "temperature"),
                Adapter = table.Text("adapter"),
                Exclude = table.Text("exclude"),
                Block = BlockOf(table, method, runs),
                Factors = FactorsReader.Of(table),
            });
            table.Finish();
        }

        return runs.Count > 0
            ? runs
            : throw document.Refuse(1, "the study has no runs; add at least one [[runs]] with a method and its logs");
    }

    // A run without a block might be a day of its own or part of another, and nothing tells which.
    private static string? BlockOf(TomlTableReader table, string method, List<Run> before)
    {
        const string Key = "block";
        string? block = table.Text(Key)?.Trim();
        if (block is { Length: 0 } || (block is not null && !VisibleText.IsPlain(block)))
        {
            throw table.Refuse(table.LineOf(Key), $"{table.PathOf(Key)} names no block; name the day, set-up, operator or place, such as "
                + "\"2026-03-01\"");
        }

        return before.FirstOrDefault(r => r.Method == method) is { } other && other.Block is null != block is null
            ? throw table.Refuse(table.Line, $"[{table.Path}] {(block is null ? "has no block" : "has a block")}, and {other.Id} "
                + $"{(block is null ? "has one" : "has none")}; give the block of every run of {method}, or of none")
            : block;
    }

    private static List<StandbyLog> StandbyLogs(TomlTableReader document, List<Method> methods, Dictionary<string, Meter> meters)
    {
        var logs = new List<StandbyLog>();
        foreach (var table in document.ListOfTables("standby"))
        {
            logs.Add(new StandbyLog(MethodOf(table, methods), LogsOf(table, meters)));
            table.Finish();
        }

        return logs;
    }

    private static string MethodOf(TomlTableReader table, List<Method> methods)
    {
        string method = table.RequiredText("method", $"\"{methods[0].Name}\"");
        return methods.Any(m => m.Name == method) ? method : throw UnknownMethod(table, "method", method, methods);
    }

    private static InputException UnknownMethod(TomlTableReader table, string key, string found, List<Method> methods) => table.Refuse(
        table.LineOf(key),
            $"{table.PathOf(key)} is \"{found}\", which is no method of this study; known are "
            + $"{string.Join(", ", methods.Select(m => m.Name))}");

    private static Dictionary<MeasuringPoint, LogReference> LogsOf(TomlTableReader table, Dictionary<string, Meter> meters)
    {
        var logs = new Dictionary<MeasuringPoint, LogReference>();
        var all = table.Table("logs")
            ?? throw table.Refuse(table.Line, $"[{table.Path}] has no logs; add logs = {{ usb = {{ file = \"…\", meter = \"…\" }} }}");
        foreach (var (word, point) in MeterReader.Points)
        {
            if (!all.TryGet(word, out var node))
            {
                continue;
            }

            if (node.Value is string or List<TomlNode>)
            {
                logs.Add(point, new LogReference(all.Texts(word), null));
                continue;
            }

            var log = all.Table(word)!;
            var files = log.Texts("file");
            string? meter = log.Text("meter");
            if (files.Count == 0)
            {
                throw log.Refuse(log.Line, $"{log.Path} names no file; add file = \"…\"");
            }

            if (meter is not null && !meters.ContainsKey(meter))
            {
                throw log.Refuse(log.LineOf("meter"),
                    $"{log.PathOf("meter")} is \"{meter}\", which is no meter of this study; "
                    + $"{(meters.Count == 0 ? $"add [meters.{meter}]" : $"known are {string.Join(", ", meters.Keys)}")}");
            }

            if (meter is not null && meters[meter].Options.Point is { } fixedPoint && fixedPoint != point)
            {
                throw log.Refuse(log.LineOf("meter"),
                    $"{log.Path} uses the meter \"{meter}\", whose point is \"{MeterReader.WordOf(fixedPoint)}\"; use one that sits at "
                    + $"\"{word}\", or correct the meter's point");
            }

            log.Finish();
            logs.Add(point, new LogReference(files, meter));
        }

        all.Finish();
        return logs.Count > 0 ? logs
            : throw table.Refuse(table.Line, $"[{table.Path}] has no logs; add logs = {{ usb = {{ file = \"…\", meter = \"…\" }} }}");
    }
}
