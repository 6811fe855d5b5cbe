using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Reads the <c>results.json</c> of an earlier audit. Whatever else it is given, it refuses with one sentence.</summary>
public static class BaselineReader
{
    /// <summary>Name and version of the document that is understood.</summary>
    public const string Schema = "chargeaudit-audit/1";

    private const string Remedy = "give the results.json that chargeaudit audit wrote";

    /// <summary>Reads a baseline from disk.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is missing, or is no results file of an audit.</exception>
    public static MeasuredDesign Load(string path)
    {
        byte[] bytes;
        try
        {
            bytes = File.ReadAllBytes(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            string why = Directory.Exists(path) ? "it is a folder" : e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.');
            throw new InputException(InputProblem.Missing, $"{path} cannot be read: {why}; {Remedy}", e);
        }

        return Read(path, bytes);
    }

    /// <summary>Reads a baseline from its bytes.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="utf8">Its bytes.</param>
    /// <exception cref="InputException">They are no results file of an audit.</exception>
    public static MeasuredDesign Read(string file, ReadOnlyMemory<byte> utf8)
    {
        try
        {
            // A byte-order mark is what an editor may have added.
            var json = utf8.Span.StartsWith(Encoding.UTF8.Preamble) ? utf8[Encoding.UTF8.Preamble.Length..] : utf8;
            using var document = JsonDocument.Parse(json);
            RefuseForeign(file, document.RootElement);
            if (!JsonNumbers.CanAllBeMeant(document.RootElement))
            {
                throw new FormatException("it holds a number that no result has");
            }

            return Design(document.RootElement, Convert.ToHexStringLower(SHA256.HashData(utf8.Span)));
        }
        catch (JsonException e)
        {
            long line = (e.LineNumber ?? 0) + 1;
            throw Refuse(FormattableString.Invariant($"{file}, line {line}: this is not JSON, or it was cut short; {Remedy}"), e);
        }
        catch (Exception e) when (e is KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException or ArithmeticException or IndexOutOfRangeException)
        {
            throw Refuse($"{file}: the document says it is {Schema} but does not hold what that has; {Remedy}, unchanged", e);
        }
    }

    private static void RefuseForeign(string file, JsonElement root)
    {
        string? schema = root.ValueKind == JsonValueKind.Object && root.TryGetProperty("schema", out var s) && s.ValueKind == JsonValueKind.String ? s.GetString() : null;
        if (schema != Schema)
        {
            string found = schema is null ? "the document has no \"schema\"" : $"the document is {Short(schema)}";
            throw Refuse($"{file}: {found}, and {Schema} was expected; {Remedy}", null);
        }
    }

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private static MeasuredDesign Design(JsonElement root, string sha256)
    {
        var logs = root.GetProperty("logs").EnumerateArray().ToLookup(l => l.GetProperty("file").GetString()!, StringComparer.Ordinal);
        var users = root.GetProperty("methods").EnumerateArray().SelectMany(m => m.GetProperty("runs").EnumerateArray())
            .SelectMany(r => r.GetProperty("points").EnumerateObject()).Select(p => FilesOf(p.Value)[0]).ToLookup(f => f, StringComparer.Ordinal);
        return new MeasuredDesign
        {
            Title = root.GetProperty("title").GetString()!,
            DeviceName = root.GetProperty("device").GetProperty("name").GetString(),
            BatteryWh = Number(root.GetProperty("device"), "batteryWh"),
            Methods =
            [
                .. root.GetProperty("methods").EnumerateArray().Select(m => new DesignMethod(
                    m.GetProperty("name").GetString()!,
                    Member<MethodKind>(m.GetProperty("kind")),
                    [.. m.GetProperty("runs").EnumerateArray().Where(r => !r.GetProperty("excluded").GetBoolean()).Select(r => Run(r, logs, users))],
                    Points(m.GetProperty("points")))),
            ],
            LogSha256 = root.GetProperty("provenance").GetProperty("logs").EnumerateArray()
                .Select(l => l.GetProperty("sha256").GetString()!).ToHashSet(StringComparer.Ordinal),
            Sha256 = sha256,
        };
    }

    private static DesignRun Run(JsonElement run, ILookup<string, JsonElement> logs, ILookup<string, string> users) => new(
        run.GetProperty("id").GetString()!,
        Number(run, "startChargePercent"),
        Number(run, "endChargePercent"),
        run.GetProperty("points").EnumerateObject().ToDictionary(p => Point(p.Name), p =>
        {
            var files = FilesOf(p.Value);
            var log = logs[files[0]].First();
            var charge = p.Value.GetProperty("charge");
            return new DesignRunPoint(
                charge.GetProperty("end").GetDouble() - charge.GetProperty("start").GetDouble(),
                log.GetProperty("sampling").GetProperty("medianInterval").GetDouble(),
                users[files[0]].Count() == 1 ? log.GetProperty("peakPower").GetProperty("value").GetDouble() : null,
                log.GetProperty("resolution").TryGetProperty("power", out var step) ? step.GetDouble() : null,
                p.Value.GetProperty("meter").GetString(),
                files)
            {
                Sha256 = [.. log.GetProperty("files").EnumerateArray().Select(f => f.GetProperty("sha256").GetString()!)],
            };
        }))
    {
        Factors = run.TryGetProperty("factors", out var factors) ? Factors(factors) : RunFactors.None,
    };

    private static RunFactors Factors(JsonElement factors) => new(
        Enum.GetValues<Factor>().Where(f => f != Factor.Case && factors.TryGetProperty(FactorWords.Member(f), out _))
            .ToDictionary(f => f, f => factors.GetProperty(FactorWords.Member(f)).GetDouble()),
        factors.TryGetProperty(FactorWords.Member(Factor.Case), out var box) ? box.GetString() : null);

    private static Dictionary<MeasuringPoint, DesignPoint> Points(JsonElement points) => points.EnumerateObject()
        .Where(p => p.Value.ValueKind == JsonValueKind.Object)
        .Select(p => (Point: Point(p.Name), Energy: Figure(p.Value, "energyPerCharge"), At: p.Value))
        .Where(p => p.Energy.Assumed is null)
        .ToDictionary(p => p.Point, p => new DesignPoint(p.Energy, Figure(p.At, "noLoadPower"), Figure(p.At, "maintenancePower")));

    private static Figure Figure(JsonElement parent, string name)
    {
        var found = parent.GetProperty(name);
        return found.ValueKind == JsonValueKind.Null
            ? Metrology.Uncertainty.Figure.None(parent.GetProperty(name + "Reason").GetString()!)
            : Metrology.Uncertainty.Figure.Of(Measured(found), found.TryGetProperty("assumed", out var assumed) ? assumed.GetString() : null);
    }

    private static Measured Measured(JsonElement m) => Metrology.Uncertainty.Measured.From(
        m.GetProperty("value").GetDouble(),
        m.GetProperty("unit").GetString()!,
        m.GetProperty("components").EnumerateArray().Select(c => new UncertaintyComponent(
            new InfluenceSource(
                c.GetProperty("part").GetString()!,
                Above(Number(c, "dof") ?? double.PositiveInfinity),
                c.GetProperty("shared").GetBoolean(),
                Member<ErrorShape>(c.GetProperty("shape")))
            {
                Owner = Owner(c.GetProperty("owner").GetString()),
                OwnerName = c.GetProperty("ownerName").GetString(),
                Kind = Member<SourceKind>(c.GetProperty("kind")),
            },
            NotBelow(c.GetProperty("u").GetDouble()))),
        m.TryGetProperty("uReason", out var because) ? because.GetString() : null);

    private static SourceOwner Owner(string? word)
    {
        foreach (var owner in Enum.GetValues<SourceOwner>())
        {
            if (InfluenceSource.Word(owner) == word)
            {
                return owner;
            }
        }

        throw new FormatException($"{word} owns no source");
    }

    private static string[] FilesOf(JsonElement point) => [.. point.GetProperty("files").EnumerateArray().Select(f => f.GetString()!)];

    private static MeasuringPoint Point(string word) =>
        StudyWords.Point(word) ?? throw new FormatException(string.Create(CultureInfo.InvariantCulture, $"{word} is no measuring point"));

    private static double Above(double number) => number > 0 ? number : throw new FormatException("degrees of freedom are above zero");

    private static double NotBelow(double number) => number >= 0 ? number : throw new FormatException("an uncertainty is not below zero");

    private static double? Number(JsonElement parent, string name) =>
        parent.GetProperty(name) is { ValueKind: not JsonValueKind.Null } number ? number.GetDouble() : null;

    private static T Member<T>(JsonElement word)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (word.ValueEquals(StableName.Of(value)))
            {
                return value;
            }
        }

        throw new FormatException($"{word} is no {typeof(T).Name}");
    }

    private static InputException Refuse(string sentence, Exception? inner) => new(InputProblem.Unusable, sentence, inner);
}
