using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Physics;

/// <summary>One run, step by step: a step ends at each full second, at each edge of a pulse or burst and where the device is put on or
/// taken off.</summary>
internal sealed class ChargeSimulation
{
    private const double LongestS = 48 * 3600;

    /// <summary>Most steps of a run: all of them stay in memory at once. [1]</summary>
    private const int MostSteps = 1 << 19;

    private readonly RunPlan _plan;
    private readonly DeviceModel _device;
    private readonly RandomSource _random;
    private readonly double _backgroundW;
    private readonly double _coupling = double.NaN;
    private readonly List<FlowStep> _steps = [];
    private readonly List<ModeSpan> _modes = [];
    private double _nowS;
    private double _mainsV = 230;
    private double _fluctuation;
    private double _burstFromS = double.PositiveInfinity;

    private ChargeSimulation(RunPlan plan, DeviceModel device, RandomSource random)
    {
        (_plan, _device, _random) = (plan, device, random);
        OffsetM = Offset(plan, random.Named("position"));
        _backgroundW = device.BackgroundW * Math.Max(0, 1 + (plan.BackgroundSpread * random.Named("background").NextNormal()));
        if (plan.Method.Pad is { } pad)
        {
            _coupling = pad.Coupling(OffsetM, plan.Place?.GapM);
            if (plan.StartShare is not null && _coupling is not (> 0 and < 1))
            {
                throw new InputException(
                    InputProblem.Unusable,
                        $"Run '{plan.Id}': the coils' coupling comes out as {_coupling:G3}, expected between 0 and 1; correct geometry, "
                        + "inductances or shield factor.");
            }
        }
    }

    private double OffsetM { get; }

    /// <summary>Simulates a run.</summary>
    public static PowerTrace Run(RunPlan plan, DeviceModel device, RandomSource random)
    {
        ChargeSimulation run = new(plan, device, random);
        double startShare = double.NaN;
        run.Wait(plan.NoLoadBeforeS);
        if (plan.StartShare is { } share)
        {
            startShare = Math.Clamp(share + random.Named("start").NextWithin(plan.StartSpread), 0, 1);
            run.Charge(startShare);
            run.Wait(plan.NoLoadAfterS);
        }

        return new PowerTrace
        {
            Steps = run._steps,
            Modes = run._modes,
            StartShare = startShare,
            OffsetM = run.OffsetM,
            Coupling = run._coupling,
        };
    }

    private static double Offset(RunPlan plan, RandomSource random)
    {
        double x = (plan.Place?.XM ?? plan.OffsetM) + (plan.OffsetSpreadM * random.NextNormal());
        double y = (plan.Place?.YM ?? 0) + (plan.OffsetSpreadM * random.NextNormal());
        return plan.Method.Pad is null ? 0 : Math.Sqrt((x * x) + (y * y));
    }

    private void Wait(double durationS)
    {
        double startS = _nowS;
        double endS = _nowS + durationS;
        double pulseEveryS = _plan.Method.Pad?.PulseEveryS ?? 0;
        double pulseLengthS = _plan.Method.Pad?.PulseLengthS ?? 0;
        double firstS = startS + (pulseEveryS * _random.NextUnit());
        while (_nowS < endS)
        {
            double nextS = Math.Min(endS, Math.Floor(_nowS) + 1);
            bool pulse = false;
            if (pulseEveryS > 0 && pulseLengthS > 0)
            {
                // The edge's number is rounded, so that standing on an edge does not depend on its last bit.
                double since = (_nowS - firstS) / pulseEveryS;
                double number = Math.Floor(since + 1e-9);
                double endOfPulseS = firstS + (number * pulseEveryS) + pulseLengthS;
                pulse = _nowS < endOfPulseS - 1e-9;
                nextS = Math.Min(nextS, pulse ? endOfPulseS : firstS + ((number + 1) * pulseEveryS));
            }

            Everyday();
            ChainStep chain = ChargerChain.Waiting(_plan.Method, pulse);
            Add(nextS, Mode.NoLoad, chain, chain.Losses, default, 0, _device.AmbientC);
        }

        Close(Mode.NoLoad, startS);
    }

    private void Charge(double share)
    {
        double startS = _nowS;
        DeviceState state = DeviceState.Fresh(_device, share);
        _burstFromS = _device.BurstW > 0 ? startS + _random.NextExponential(_device.BurstEveryS) : double.PositiveInfinity;
        Mode mode = Mode.Charge;
        double borderS = startS;
        double endS = double.PositiveInfinity;
        while (_nowS < endS)
        {
            double nextS = Math.Min(endS, Math.Floor(_nowS) + 1);
            bool negotiating = _nowS < startS + _plan.Method.NegotiationS;
            nextS = negotiating ? Math.Min(nextS, startS + _plan.Method.NegotiationS) : nextS;
            bool burst = _nowS >= _burstFromS;
            nextS = Math.Min(nextS, burst ? _burstFromS + _device.BurstLengthS : _burstFromS);
            double limitW = negotiating ? _plan.Method.NegotiationW : _plan.Method.InputLimitW;
            limitW = state.Throttled ? Math.Min(limitW, _device.ThrottledW) : limitW;
            Everyday();
            double ownW = (_backgroundW * Math.Max(0, 1 + (_device.BackgroundSpread * _fluctuation))) + (burst ? _device.BurstW : 0);
            DeviceStep device = ChargeController.Step(_device, state, limitW, ownW, nextS - _nowS);
            if (mode == Mode.Charge && device.After.Stage == ChargeStage.Ended)
            {
                if (_nowS == startS)
                {
                    throw EndsAtOnce(share);
                }

                Close(mode, borderS);
                mode = Mode.Maintenance;
                borderS = _nowS;
                endS = _nowS + _plan.MaintenanceS;
                if (endS <= _nowS)
                {
                    return;
                }

                if (endS < nextS)
                {
                    nextS = endS;
                    device = ChargeController.Step(_device, state, limitW, ownW, nextS - _nowS);
                }
            }

            ChainStep chain = ChargerChain.Loaded(_plan.Method, _coupling, device.InputW);
            PowerLosses losses = chain.Losses with { ChargerW = device.ChargerW, CellW = device.CellW, BackgroundW = device.BackgroundW };
            state = ChargeController.Warm(_device, device.After, losses.InDeviceW, nextS - _nowS);
            Add(nextS, mode, chain, losses, device, state.Share, state.TemperatureC);
            if (burst && _nowS >= _burstFromS + _device.BurstLengthS)
            {
                _burstFromS = _nowS + _random.NextExponential(_device.BurstEveryS);
            }

            if (_nowS - startS > LongestS)
            {
                throw new InputException(InputProblem.Unusable,
                    $"Run '{_plan.Id}': the charge does not end within 48 h; raise the input limit or the charge current.");
            }
        }

        Close(mode, borderS);
    }

    private InputException EndsAtOnce(double share)
    {
        double openV = _device.Curve.VoltageV(share);
        return new InputException(InputProblem.Unusable, InvariantText.Of(
            $"Run '{_plan.Id}': it starts at {100 * share:0.#} %, where the battery has {openV:0.###} V: up to the charge voltage of "
                + $"{_device.ChargeVoltageV:0.###} V only {Math.Max(0, _device.ChargeVoltageV - openV) / _device.CellOhm:G3} A flow "
                + $"through the cell's {_device.CellOhm:G3} Ω, and the charger ends at {_device.TerminationCurrentA:G3} A, so nothing "
                + $"would be charged; lower 'start-charge', 'start-spread' or 'cell-resistance'."));
    }

    /// <summary>What changes from second to second whatever is connected: the mains and the device's own consumption wander.</summary>
    private void Everyday()
    {
        if (_nowS == Math.Floor(_nowS))
        {
            _mainsV = 230 + (0.998 * (_mainsV - 230)) + (0.05 * _random.NextNormal());
            _fluctuation = (0.9 * _fluctuation) + (0.43588989435406735 * _random.NextNormal());
        }
    }

    private void Add(double endS, Mode mode, ChainStep chain, PowerLosses losses, DeviceStep device, double shareAfter, double temperatureC)
    {
        if (_steps.Count >= MostSteps)
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"Run '{_plan.Id}': {MostSteps} steps of at most 1 s, and of a pulse or burst, are over after {_nowS / 3600:F1} h; ")
                + "shorten the run, or lengthen the pad's pulses.");
        }

        _steps.Add(new FlowStep
        {
            StartS = _nowS,
            DurationS = endS - _nowS,
            Mode = mode,
            WallW = chain.WallW,
            MainsV = _mainsV,
            PowerFactor = chain.PowerFactor,
            UsbV = chain.UsbV,
            UsbA = chain.UsbA,
            DeviceV = chain.DeviceV,
            DeviceA = chain.DeviceA,
            BatteryV = device.BatteryV,
            BatteryA = device.BatteryA,
            StoredW = device.StoredW,
            Losses = losses,
            ShareAfter = shareAfter,
            TemperatureC = temperatureC,
        });
        _nowS = endS;
    }

    private void Close(Mode mode, double startS)
    {
        if (_nowS > startS)
        {
            _modes.Add(new ModeSpan(mode, startS, _nowS, 0, 0));
        }
    }
}
