using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.LongTables;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>The first, bounded look at a text log: everything that the reading needs to know is decided here.</summary>
internal static class TextLook
{
    // As large as the share of bad rows that a log may have: none is refused for fields of one column that are empty now and then.
    private const double OftenBlank = 0.05;

    /// <summary>Looks at a log.</summary>
    public static LogLayout Inspect(LogSource source, LogOptions options)
    {
        TextSample sample = TextSample.Take(source);
        CsvwMetadata? metadata = source.Converts ? null : CsvwMetadata.Find(source.Path);
        Table table = TableFinder.Find(source.Path, sample, options.FixedIntervalS is not null
            || options.Columns.Count > 0, source.Converts ? '\t' : metadata?.Separator, metadata?.SkipRows ?? 0);
        table = metadata is null ? table : Told(table, metadata);
        long headerAt = table.HeaderLine ?? 0, dataAt = table.FirstDataLine;
        char separator = table.Separator;
        TextEncoding encoding = sample.Encoding;
        IReshape? reshape = options.Columns.Count == 0 ? LongTableFinder.Find(source.Path, table, options.Series) : null;
        reshape ??= DeviceRowsFinder.Find(source.Path, table, options.Series);
        if (reshape is null && options.Series is { } wanted && options.Columns.Count == 0)
        {
            throw LogErrors.NoSeries(source.Path, wanted);
        }

        if (reshape is not null)
        {
            (source.Reshape, source.ReshapeFrom) = (reshape, encoding);
            sample = TextSample.Take(source);
            table = TableFinder.Find(source.Path, sample, oneColumn: false, '\t');
        }

        options = options with { DateOrder = options.DateOrder ?? metadata?.Dates };
        var (numbers, numberNote) = metadata?.Numbers is { } told ? (told, null) : NumberStyleFinder.Find(table);
        ColumnFinder.Found found = ColumnFinder.Find(source.Path, table, options);
        if (metadata is not null)
        {
            found.Notes.Add($"Columns and separator were taken from {metadata.File}.");
            found.Notes.AddRange(metadata.NotUsed);
        }

        NumberStyle byForm = numbers;
        numbers = metadata?.Numbers is null ? GroupedNumbers.Settle(table, numbers, found) : numbers;
        if (numberNote is not null && numbers == byForm)
        {
            found.Ambiguities.Add(numberNote);
        }

        TimeFinder.Result time = TimeFinder.Find(source.Path, table, numbers, options, found);
        IReadOnlyList<FieldPlan> fields = Fields(found, table, numbers, source, options.Sign);
        RequireUsable(source.Path, fields, table, found);
        var plan = new TextPlan
        {
            Encoding = sample.Encoding,
            Separator = table.Separator == ' ' ? (byte)'\t' : (byte)table.Separator,
            BlankRuns = table.Separator == ' ',
            Numbers = numbers,
            FirstDataLine = table.JudgedFromLine,
            FieldCount = table.FieldCount,
            FewestFields = FewestFields(table, fields, time.Plan),
            HeaderFields = table.Header,
            Fields = fields,
            Time = time.Plan,
        };
        // Columns understood anew may be further back in a row.
        TextPlan Again(TextPlan before)
        {
            FieldPlan[] anew = Fields(found, table, numbers, source, options.Sign);
            return before with { Fields = anew, FewestFields = FewestFields(table, anew, before.Time) };
        }

        IReadOnlyList<SamplingFinder.Run> runs = SamplingFinder.Read(table, plan);
        if (CounterColumns.Settle(found, runs, () => SamplingFinder.Read(table, Again(plan))))
        {
            plan = Again(plan);
            runs = SamplingFinder.Read(table, plan);
        }

        IntervalRows? intervals = IntervalEnergy.Settle(source.Path, found, table, plan, runs, options);
        if (!plan.Fields.All(f => found.Columns[f.Index].Quantity == f.Quantity))
        {
            plan = Again(plan);
            runs = SamplingFinder.Read(table, plan);
        }

        intervals ??= IntervalMeans.Settle(source.Path, found, table, plan, runs, options);
        if (UnitDoubts.SetPowerUnit(found, runs))
        {
            plan = Again(plan);
            runs = SamplingFinder.Read(table, plan);
        }

        if (DataChecks.Apply(found, runs, options))
        {
            plan = Again(plan);
            RequireUsable(source.Path, plan.Fields, table, found);
            runs = SamplingFinder.Read(table, plan);
        }

        UnitDoubts.Add(found, runs);
        HeaderDoubts.Add(found);
        SamplingFinder.Result sampling = SamplingFinder.Find(
            runs, WholeTimes.Read(source, plan), intervals is null
                ? options
                : options with { Samples = null, ChangeThreshold = null }, intervals?.Kind ?? source.Table?.Samples);
        Dictionary<LogQuantity, double> printed = PrintedStep.OfColumns(table, plan);
        Dictionary<LogQuantity, StepEvidence> steps = StepFinder.Of(runs, printed);
        if (sampling.RowsPerStamp > 0)
        {
            plan = plan with { Time = plan.Time with { RowsPerStamp = sampling.RowsPerStamp, StampStepS = sampling.StampStepS } };
            found.Notes.Add(
                Prose.Of(
                    $"About {sampling.RowsPerStamp:0.##} rows carry one time stamp; they are spread evenly over its "
                + $"{sampling.StampStepS:0.###} s."));
        }

        if (options.Strict && found.Ambiguities.Count > 0)
        {
            throw LogErrors.Ambiguous(source.Path, found.Ambiguities[0]);
        }

        return new LogLayout
        {
            Format = source.Format?.Name ?? "text",
            Dialect = source.Format is not null
                ? null
                : new Dialect(encoding.Name(), separator, (char)numbers.Decimal, headerAt > 0 ? headerAt : null, dataAt),
            Columns = found.Columns,
            TableForm = source.Reshape?.Words ?? intervals?.Words,
            Reshape = source.Reshape,
            ReshapeFrom = source.ReshapeFrom,
            HeaderLanguage = HeaderDoubts.Language(found),
            TimeForm = time.Words,
            Start = time.Start,
            StartIsLocal = time.StartIsLocal,
            ClockOfDayS = plan.Time.Form == TimeForm.ClockOfDay ? runs[0].TimesS.Cast<double?>().FirstOrDefault() : null,
            MedianIntervalS = sampling.MedianS,
            RowsAbout = sample.LinesAbout,
            Samples = sampling.Kind,
            IntervalS = intervals?.LengthS ?? 0,
            SamplesWhy = intervals?.Why ?? sampling.Why,
            ChangeThreshold = sampling.Threshold,
            Steps = steps,
            Resolution = steps.Where(s => s.Value.Step > 0).ToDictionary(s => s.Key, s => s.Value.Step),
            PowerIsProduct = StepFinder.PowerIsProduct(runs, printed),
            Notes = [.. source.Notes, .. source.Table?.Notes ?? [], .. source.Reshape?.Notes ?? [], .. found.Ambiguities, .. found.Notes],
            Ambiguities = found.Ambiguities,
            Plan = plan,
            Spool = source.Spool,
            Unpacked = source.Unpacked,
        };
    }

    private static int FewestFields(Table table, IReadOnlyList<FieldPlan> fields, TimePlan time)
    {
        int needed = Math.Max(fields.Select(f => f.Index).DefaultIfEmpty(0).Max(), Math.Max(time.Index, time.ClockIndex)) + 1;
        return table.OtherCounts.Where(c => c >= needed && c < table.FieldCount).DefaultIfEmpty(table.FieldCount).Min();
    }

    private static bool IsReading(LogQuantity quantity) => quantity >= LogQuantity.Voltage;

    // Titles of the metadata name the columns where the log has no header; their units hold in any case.
    private static Table Told(Table table, CsvwMetadata metadata) => table with
    {
        Header = (table.Header.Count == 0 || !metadata.Header) && metadata.Titles.Count > 0 ? metadata.Titles : table.Header,
        HeaderLine = metadata.Header ? table.HeaderLine : null,
        Units = metadata.Units.Any(u => u.Length > 0) ? metadata.Units : table.Units,
    };

    private static FieldPlan[] Fields(ColumnFinder.Found found, Table table, NumberStyle numbers, LogSource source, FlowSign sign)
    {
        FieldPlan[] fields = [.. found.Columns.Where(c => IsReading(c.Quantity))
            .Select(c => Field(c, table, numbers, source.Table?.BlanksAreNormal == true))];
        return sign == FlowSign.Turned ? Turned(fields) : fields;
    }

    // Where power is apparent power by its factor, the factor carries the sign; elsewhere current and power do.
    private static FieldPlan[] Turned(FieldPlan[] fields)
    {
        bool Has(LogQuantity q) => Array.Exists(fields, f => f.Quantity == q);
        bool byFactor = !(Has(LogQuantity.Voltage) && Has(LogQuantity.Current));
        return Array.ConvertAll(fields, f => f.Quantity is LogQuantity.Current or LogQuantity.Power
            || (byFactor && f.Quantity == LogQuantity.PowerFactor)
            ? f with { Factor = -f.Factor, Offset = -f.Offset }
            : f);
    }

    private static FieldPlan Field(LogColumn column, Table table, NumberStyle numbers, bool blanksAreNormal)
    {
        int rows = 0;
        int blanks = 0;
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        foreach (string field in table.Plain.At(column.Index, numbers.Decimal) is null ? table.Column(column.Index) : [])
        {
            rows++;
            blanks += !PlainNumber.Is(field, out _) && (field.Length == 0 || NumberField.IsMissingMark(FieldBytes.Of(field, room)))
                ? 1
                : 0;
        }

        UnitKind kind = UnitTable.TryFind(column.Unit, out Unit unit) ? unit.Kind : UnitKind.Ratio;
        return new FieldPlan(
            column.Index,
            column.Quantity,
            column.Factor,
            kind,
            blanksAreNormal || blanks > OftenBlank * rows,
            column.Header)
        {
            Offset = column.Offset,
        };
    }

    // Energy can be obtained from power, from voltage and current on DC, and from counters; what the measuring point allows is judged
    // later.
    private static void RequireUsable(string path, IReadOnlyList<FieldPlan> fields, Table table, ColumnFinder.Found found)
    {
        bool Has(LogQuantity q) => fields.Any(f => f.Quantity == q);
        if (!Has(LogQuantity.Power) && !Has(LogQuantity.Energy) && !Has(LogQuantity.Charge)
            && !(Has(LogQuantity.Voltage) && Has(LogQuantity.Current))
            && !(Has(LogQuantity.ApparentPower) && Has(LogQuantity.PowerFactor)))
        {
            throw LogErrors.NoQuantity(path, table.Header.Count > 0
                ? LogErrors.List(table.Header)
                : "the named columns", ColumnsHints.For(table, found.Columns));
        }
    }
}
