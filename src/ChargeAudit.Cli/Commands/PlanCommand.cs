using System.CommandLine;
using ChargeAudit.Checking;
using ChargeAudit.Checking.Planning;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Metrology.Units;
using ChargeAudit.Pooling.Planning;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>plan</c>: how many runs, what meter and what sampling a wanted answer needs.</summary>
internal sealed class PlanCommand
{
    private readonly Option<string?> _margin =
        CommonOptions.Text("--margin", "plan a check: the margin that it is to show is kept, such as 2%", "PERCENT");
    private readonly Option<string?> _resolution =
        CommonOptions.Text("--resolution", "plan a comparison: the smallest difference between two methods that it is to show, such as 3%",
        "PERCENT");
    private readonly Option<string?> _repeatability =
        CommonOptions.Text("--repeatability", "how much one run differs from the next (standard deviation), such as 1%", "PERCENT");
    private readonly Option<string?> _from =
        CommonOptions.Text("--from", "take the scatter that an audit has seen, from its results.json", "FILE");
    private readonly Option<string?> _method = CommonOptions.Text("--method", "only this method of --from", "NAME");
    private readonly Option<string?> _point =
        CommonOptions.OptionalWord("--point", "only this measuring point of --from", StudyWords.Points);
    private readonly Option<double?> _power = CommonOptions.Number("--power", "probability of success (default 0.8)", "NUMBER", "0.8");
    private readonly Option<double?> _alpha = CommonOptions.Number("--alpha", "level of the test (default 0.05)", "NUMBER", "0.05");
    private readonly Option<string?> _accuracy =
        CommonOptions.Text("--accuracy", "accuracy of the meter's power as its data sheet gives it, such as \"0.5 % + 10 mW\"", "TEXT");
    private readonly Option<string?> _step = CommonOptions.Text("--step", "step of its power readings, such as 10mW", "POWER");
    private readonly Option<string?> _chargePower = CommonOptions.Text("--charge-power", "mean power over a charge, such as 8W", "POWER");
    private readonly Option<string?> _chargeTime =
        CommonOptions.Text("--charge-time", "length of a charge in seconds, such as 6000s", "TIME");
    private readonly Option<string?> _interval = CommonOptions.Text("--interval", "interval between readings (default 1s)", "TIME");
    private readonly Option<string?> _samples =
        CommonOptions.OptionalWord("--samples", "what a reading stands for (default instantaneous)", StudyWords.SampleKinds);
    private readonly Option<string?> _standby =
        CommonOptions.Text("--standby-power", "expected power of a waiting charger, such as 150mW", "POWER");
    private readonly Option<string?> _within =
        CommonOptions.Text("--standby-within", "how well that is to be known, to either side (default 5%)", "PERCENT");
    private readonly Option<string?> _pulsePower =
        CommonOptions.Text("--pulse-power", "how far its pulses rise, such as 400mW; goes with the next two", "POWER");
    private readonly Option<string?> _pulseLength = CommonOptions.Text("--pulse-length", "length of a pulse, such as 70ms", "TIME");
    private readonly Option<string?> _pulsePeriod =
        CommonOptions.Text("--pulse-period", "time from one pulse to the next, such as 530ms", "TIME");
    private readonly Option<string?> _meanWithin =
        CommonOptions.Text("--mean-within",
        "plan a pool: how well the mean over devices is to be known, to either side, such as 2%; goes with --spread and --repeatability",
        "PERCENT");
    private readonly Option<string?> _deviceWithin =
        CommonOptions.Text("--device-within", "plan a pool: how well another device's ratio is to be predicted, to either side, such as 6%",
        "PERCENT");
    private readonly Option<string?> _betweenBlocks =
        CommonOptions.Text("--between-blocks", "how much days or set-ups differ beyond that (standard deviation), such as 1%", "PERCENT");

    private readonly Option<string?> _spread =
        CommonOptions.Text("--spread", "how much devices differ from one another (standard deviation), such as 2%", "PERCENT");
    private readonly Option<double?> _costPerRun = CommonOptions.Number("--cost-per-run", "cost of a run, in any currency", "NUMBER");
    private readonly Option<double?> _costPerDevice =
        CommonOptions.Number("--cost-per-device", "cost of having a device, in the same", "NUMBER");
    private readonly Option<string> _format = CommonOptions.Format();
    private readonly CliHost _host;

    private PlanCommand(CliHost host) => _host = host;

    public static Command Create(CliHost host)
    {
        var self = new PlanCommand(host);
        var command = new Command("plan", "Says how many runs, what meter and what sampling an answer needs.")
        {
            self._margin, self._resolution, self._repeatability, self._betweenBlocks, self._from, self._method, self._point, self._power,
                self._alpha,
            self._accuracy, self._step, self._chargePower, self._chargeTime, self._interval, self._samples,
            self._standby, self._within, self._pulsePower, self._pulseLength, self._pulsePeriod,
            self._meanWithin, self._deviceWithin, self._spread, self._costPerRun, self._costPerDevice, self._format,
        };
        command.SetAction(self.Run);
        return command;
    }

    private int Run(ParseResult parse)
    {
        if (parse.GetValue(_meanWithin) is not null || parse.GetValue(_deviceWithin) is not null)
        {
            return PlanDevices(parse);
        }

        var plan = TestPlanner.Make(new PlanRequest
        {
            Aim = AimOf(parse),
            Repeatability = Share(parse, _repeatability),
            BetweenBlocks = Share(parse, _betweenBlocks),
            Seen = SeenOf(parse),
            Accuracy = AccuracyOf(parse),
            StepW = Value(parse, _step, "W") ?? 0,
            ChargePowerW = Value(parse, _chargePower, "W"),
            ChargeDurationS = Value(parse, _chargeTime, "s"),
            IntervalS = Value(parse, _interval, "s") ?? 1,
            Samples = parse.GetValue(_samples) is { } word ? StudyWords.SampleKind(word)!.Value : SampleKind.Instantaneous,
            StandbyPowerW = Value(parse, _standby, "W"),
            StandbyWithin = Share(parse, _within) ?? 0.05,
            Pulses = PulsesOf(parse),
        });
        if (parse.GetValue(_format) == "json")
        {
            _host.Output.Write(PlanJson.Of(plan));
        }
        else
        {
            PlanText.Write(new TerminalText(_host), plan);
        }

        return ExitStatus.Done;
    }

    private int PlanDevices(ParseResult parse)
    {
        var (mean, device) = (Share(parse, _meanWithin), Share(parse, _deviceWithin));
        if (mean is not null && device is not null)
        {
            throw Wrong("give either --mean-within or --device-within, not both");
        }

        if ((mean ?? device) is not > 0 || Share(parse, _spread) is not { } spread || Share(parse, _repeatability) is not > 0)
        {
            throw Wrong(
                "a pool is planned from a width above zero, --spread 2% (how much devices differ; 0% if not at all) and --repeatability 1% "
                + "(how much runs differ)");
        }

        var aim = new DevicesAim(device is not null, (mean ?? device)!.Value, spread, Share(parse, _repeatability)!.Value,
            Cost(parse, _costPerRun), Cost(parse, _costPerDevice));
        var choices = DevicesPlanner.Choices(aim);
        if (parse.GetValue(_format) == "json")
        {
            _host.Output.Write(DevicesPlanJson.Of(aim, choices));
        }
        else
        {
            DevicesPlanText.Write(new TerminalText(_host), aim, choices);
        }

        return ExitStatus.Done;
    }

    private static double Cost(ParseResult parse, Option<double?> option) => parse.GetValue(option) is not { } cost ? 0
        : cost >= 0 ? cost : throw Wrong(InvariantText.Of($"{option.Name} is {cost}; a cost not below zero was expected"));

    private RunsAim AimOf(ParseResult parse)
    {
        var (margin, resolution) = (Share(parse, _margin), Share(parse, _resolution));
        if (margin is null == resolution is null)
        {
            throw Wrong("give either --margin (to plan a check) or --resolution (to plan a comparison), such as --margin 2%");
        }

        double power = parse.GetValue(_power) ?? 0.8, alpha = parse.GetValue(_alpha) ?? CheckRules.UsualAlpha;
        return power is not (> 0.05 and < 1)
            ? throw Wrong(InvariantText.Of($"--power is {power}; a probability above 0.05 and below 1 was expected, such as 0.8"))
            : !CheckRules.IsLevel(alpha)
                ? throw Wrong(
                    InvariantText.Of(
                        $"--alpha is {alpha}; a level from {CheckRules.LeastAlpha} to {CheckRules.GreatestAlpha} was expected, such "
                + $"as 0.05"))
            : margin is { } m
                ? new RunsAim(PlanAim.KeepMargin, m, power, alpha)
                : new RunsAim(PlanAim.TellApart, resolution!.Value, power, alpha);
    }

    private List<SeenRepeatability> SeenOf(ParseResult parse)
    {
        string? method = parse.GetValue(_method), point = parse.GetValue(_point);
        if (parse.GetValue(_from) is not { } file)
        {
            return method is null && point is null
                ? []
                : throw Wrong("--method and --point choose from the results of an audit; add --from results.json");
        }

        var all = SeenRepeatability.Of(BaselineReader.Load(file));
        var chosen = all.Where(s => (method is null || s.Method == method) && (point is null || s.Point == StudyWords.Point(point)))
            .ToList();
        if (chosen.Count > 0)
        {
            return chosen;
        }

        string wanted = method is null ? $"no method with two runs at {point}"
            : $"no method \"{method}\" with two runs{(point is null ? "" : $" at {point}")}";
        throw new InputException(InputProblem.Unusable, all.Count == 0
            ? $"{file} shows no scatter, since no method has two runs; give --repeatability instead"
            : $"{file} has {wanted}; it has {string.Join(", ", all.Select(s => $"{s.Method} {PlainWords.At(s.Point)}"))}");
    }

    private MeterAccuracy? AccuracyOf(ParseResult parse) => parse.GetValue(_accuracy) is not { } text ? null
        : MeterAccuracy.TryParse(text, LogQuantity.Power, out var accuracy, out string? error) ? accuracy
        : throw Wrong($"--accuracy is \"{text}\": {error}");

    private PulseTrain? PulsesOf(ParseResult parse)
    {
        var (power, length, period) = (Value(parse, _pulsePower, "W"), Value(parse, _pulseLength, "s"), Value(parse, _pulsePeriod, "s"));
        return (power, length, period) switch
        {
            (null, null, null) => null,
            ({ } w, { } l, { } p) => l < p ? new PulseTrain(w, l, p) : throw Wrong("--pulse-period must be longer than --pulse-length"),
            _ => throw Wrong("pulses need all three of --pulse-power, --pulse-length and --pulse-period"),
        };
    }

    private static double? Share(ParseResult parse, Option<string?> option) => parse.GetValue(option) is not { } text ? null
        : PercentText.Parse(text) is { } share and > 0 ? share
        : throw Wrong($"{option.Name} is \"{text}\"; per cent above 0 and below 100 were expected, such as 2%");

    private static double? Value(ParseResult parse, Option<string?> option, string unit) => parse.GetValue(option) is not { } text ? null
        : ValueText.TryParse(text, unit, out double value) && value > 0 ? value
        : throw Wrong(
            $"{option.Name} is \"{text}\"; a value above zero with its unit was expected, such as "
            + $"{(unit == "W" ? "8W or 150mW" : "1s or 70ms")}");

    private static InputException Wrong(string sentence) => new(InputProblem.Usage, sentence);
}
