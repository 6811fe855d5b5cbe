using System.Globalization;
using System.Text;

namespace ChargeAudit.Tests.Comparing.Auditing.Doubts;

/// <summary>
/// A folder of charges by cable and pad with meters at the wall and the USB side: constant power, then a fall by e every twelve minutes, a
/// waiting level before and after, noise. Shares nothing with the simulator.
/// </summary>
internal sealed class InventedCharges : IDisposable
{
    private const double EnergyWh = 8;
    private const double PlateauW = 9;
    private const double FallS = 720;
    private const double BeforeS = 120;
    private const double AfterS = 900;

    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-doubts-").FullName;
    private Random _random = new(0);
    private bool _dated;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>Begins a study.</summary>
    public void Begin(int seed, bool dated)
    {
        _random = new Random(seed);
        _dated = dated;
    }

    /// <summary>Writes runs of both methods and the study file; returns its path.</summary>
    public string WriteStudy(int runs)
    {
        var text =
            new StringBuilder(
                "title = \"t\"\nreference = \"cable\"\n[meters.plug]\npoint = \"wall\"\naccuracy = { power = \"0.5 % + 5 mW\" }\n"
            + "[meters.inline]\npoint = \"usb\"\naccuracy = { voltage = \"0.1 % + 2 mV\", current = \"0.1 % + 1 mA\" }\n[methods.cable]\n"
            + "kind = \"wired\"\n[methods.pad]\nkind = \"inductive\"\n");
        foreach (string method in new[] { "cable", "pad" })
        {
            for (int run = 1; run <= runs; run++)
            {
                Write(method, run, (method == "pad" ? 10 : 0) + run);
                text.Append(CultureInfo.InvariantCulture,
                    $"[[runs]]\nmethod = \"{method}\"\nlogs = {{ usb = {{ file = \"{method}-{run}-usb.csv\", meter = \"inline\" }}, wall = "
                    + $"{{ file = \"{method}-{run}-wall.csv\", meter = \"plug\" }} }}\nend-charge = 100\nstart-charge = 5\n");
            }
        }

        string path = Path.Combine(_folder, "study.toml");
        File.WriteAllText(path, text.ToString());
        return path;
    }

    /// <summary>Writes the two logs of a charge.</summary>
    public void Write(string method, int number, int day, double energyShare = 1)
    {
        double through = method == "pad" ? 0.68 : 0.97;
        double wattHours = energyShare * EnergyWh * (1 + (0.01 * Normal())) / through;
        double plateauW = PlateauW / (method == "pad" ? 1 : 0.97);
        double bendS = (wattHours * 3600 / plateauW) - FallS;
        double idleW = method == "pad" ? 0.25 : 0.002;
        double Usb(double t) => t < BeforeS ? idleW : t < BeforeS + bendS
            ? plateauW
            : Math.Max(idleW, plateauW * Math.Exp(-(t - BeforeS - bendS) / FallS));
        int last = (int)(BeforeS + bendS + (5 * FallS) + AfterS);
        var usb = new StringBuilder(_dated ? "time,voltage (V),current (A)\n" : "time (s),voltage (V),current (A)\n");
        var wall = new StringBuilder(_dated ? "time,power (W)\n" : "time (s),power (W)\n");
        var start = new DateTime(2031, 3, 1, 8, 0, 0, DateTimeKind.Utc).AddDays(day).AddSeconds(_random.Next(20_000));
        double clockErrorS = 20 * (_random.NextDouble() - 0.5);
        for (int t = 0; t <= last; t++)
        {
            double power = Usb(t) * (1 + (0.002 * Normal()));
            double wallW = 0.05 + (power / 0.88) + (0.02 * Normal());
            usb.Append(CultureInfo.InvariantCulture, $"{Stamp(start, t)},{9 + (0.002 * Normal()):F3},{power / 9:F4}\n");
            wall.Append(CultureInfo.InvariantCulture, $"{Stamp(start.AddSeconds(clockErrorS), t)},{wallW:F2}\n");
        }

        File.WriteAllText(Path.Combine(_folder, $"{method}-{number}-usb.csv"), usb.ToString());
        File.WriteAllText(Path.Combine(_folder, $"{method}-{number}-wall.csv"), wall.ToString());
    }

    /// <summary>Copies a file, with a change where one is given.</summary>
    public void Copy(string from, string to, Func<string, string>? change = null) =>
        File.WriteAllText(Path.Combine(_folder, to), (change ?? (t => t))(File.ReadAllText(Path.Combine(_folder, from))));

    private string Stamp(DateTime start, int t) => _dated
        ? start.AddSeconds(t).ToString("yyyy-MM-dd'T'HH:mm:ss.f'Z'", CultureInfo.InvariantCulture)
        : t.ToString(CultureInfo.InvariantCulture);

    // Twelve uniform numbers less six have a variance of one.
    private double Normal() => Enumerable.Range(0, 12).Sum(_ => _random.NextDouble()) - 6;
}
