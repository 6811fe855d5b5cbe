using System.Text;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.OddDays;
using ChargeAudit.LogMaker.Traces;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

/// <summary>What measuring does to the energy of a charge: errors of many logs whose true energy is known.</summary>
/// <param name="Found">Energy found by true energy, with the components of its uncertainty. [1]</param>
internal sealed record MeasuredCharges(IReadOnlyList<Measured> Found)
{
    private const double LevelW = 10;
    private const double LastW = 0.8;

    /// <summary>Makes and measures logs: waiting, two thirds of an hour at 10 W, a taper, full; rows of instants with noise, rounded to a
    /// milliwatt.</summary>
    /// <param name="intervalS">From row to row. [s]</param>
    /// <param name="logs">How many logs. [1]</param>
    /// <param name="seed">Seed.</param>
    /// <param name="kind">What rows stand for.</param>
    public static MeasuredCharges Of(double intervalS, int logs, ulong seed, RowKind kind = RowKind.Instantaneous)
    {
        var sheet = new MeterSheet
        {
            Name = "bench",
            Place = Place.Wall,
            Kind = kind,
            IntervalS = intervalS,
            PowerLimit = new Limit(0.005, 0.002),
            PowerNoise = 0.005,
            PowerStep = 0.001,
        };
        var found = new List<Measured>();
        for (int i = 0; i < logs; i++)
        {
            const double FallS = 1800;
            var day = new OddDay(
                "a charge", true, sheet,
                [
                    new(Piece.Level(600, 0.15), 0, 5), new(Piece.Level(2400, LevelW), 1, 5),
                    new(Piece.Decay(FallS, LevelW, 0, FallS / Math.Log(LevelW / LastW)), 1, 5), new(Piece.Level(1800, 0.2), 0, 5),
                ]);
            var files = day.Files(seed + (ulong)i);
            var meter = StudyReader.Read("study.toml", files["study.toml"], ".").Meters["bench"];
            using var log = new MemoryStream(Encoding.UTF8.GetBytes(files["day.csv"]));
            var sessions =
                LogMeasurer.Measure(new MeasureRequest
                {
                    Paths = ["day.csv"],
                    Content = log,
                    Meter = meter,
                    LogId = InvariantText.Of($"day-{i}")
                }).Result.Sessions;
            if (sessions.Count == 1)
            {
                found.Add(sessions[0].Energy.In("1", 1 / day.EnergiesWh[0]));
            }
        }

        return new MeasuredCharges(found);
    }

    /// <summary>One of them, as the energy of a run of its own.</summary>
    /// <param name="which">Which. [1]</param>
    /// <param name="trueWh">True energy of the run. [Wh]</param>
    /// <param name="run">Name of the run, so that no two share an error of their logs.</param>
    public Measured Run(int which, double trueWh, string run)
    {
        var m = Found[which % Found.Count];
        return Measured.From(m.Value * trueWh, "Wh", m.Components.Select(c => c with
        {
            Source = c.Source.Owner == SourceOwner.Meter ? c.Source : c.Source with { Owner = SourceOwner.Log, OwnerName = run },
            SignedStandardUncertainty = c.SignedStandardUncertainty * trueWh,
        }));
    }
}
