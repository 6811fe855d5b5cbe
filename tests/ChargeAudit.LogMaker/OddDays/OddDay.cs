using System.Globalization;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.OddDays;

/// <summary>A stretch of an odd day.</summary>
/// <param name="PowerW">What flows. [W]</param>
/// <param name="Charge">Number of the charge that it belongs to, from 1; 0: to none.</param>
/// <param name="Voltage">Where the meter reads it. [V]</param>
public sealed record Stretch(Piece PowerW, int Charge, double Voltage);

/// <summary>A log of something that happens at home and in no textbook, with the true energy of its charges.</summary>
/// <param name="Name">What happens.</param>
/// <param name="Inductive">Whether on a pad.</param>
/// <param name="Meter">What it is logged with.</param>
/// <param name="Stretches">What flows.</param>
/// <param name="Trouble">Words of which one stands in any sentence that names the trouble; none where a good program has nothing to
/// say.</param>
public sealed record OddDay(string Name, bool Inductive, MeterSheet Meter, IReadOnlyList<Stretch> Stretches,
    params IReadOnlyList<string> Trouble)
{
    /// <summary>Rows lost in one go, from and to. [s]</summary>
    public (double FromS, double ToS) Gap { get; init; }

    /// <summary>True energy of each charge. [Wh]</summary>
    public IReadOnlyList<double> EnergiesWh => [.. Stretches.Where(s => s.Charge > 0).GroupBy(s => s.Charge).OrderBy(g => g.Key)
        .Select(g => g.Sum(s => s.PowerW.IntegralTo(s.PowerW.LengthS)) / 3600)];

    /// <summary>The log and a study of it: one run for each charge.</summary>
    public IReadOnlyDictionary<string, string> Files(ulong seed)
    {
        Course course = Course.OfPieces(Meter.Place, [.. Stretches.Select(s => (s.PowerW, s.Voltage))]);
        string log =
            CsvText.Of(Logging.Of(course, Meter, new Dice(seed), Gap), Meter, new DateTimeOffset(2031, 5, 7, 18, 0, 0, TimeSpan.Zero));
        string method = Inductive ? "pad" : "cable";
        string point = Meter.Place == Place.Wall ? "wall" : "usb";
        int charges = EnergiesWh.Count;
        string runs = string.Concat(Enumerable.Range(1, charges).Select(i =>
            $"[[runs]]\nmethod = \"{method}\"\nlogs = {{ {point} = {{ file = \"day.csv\", meter = \"{Meter.Name}\" }} }}\n"
                + (charges > 1 ? $"session = {i.ToString(CultureInfo.InvariantCulture)}\n\n" : "\n")));
        string study =
            $"title = \"An odd day\"\nreference = \"{method}\"\n\n{Toml.OfMeter(Meter)}\n[methods.{method}]\nkind = "
            + $"\"{(Inductive ? "inductive" : "wired")}\"\n\n{runs}";
        return new Dictionary<string, string> { ["day.csv"] = log, ["study.toml"] = study };
    }
}
