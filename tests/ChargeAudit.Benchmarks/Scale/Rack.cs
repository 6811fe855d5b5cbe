using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Scale;

/// <summary>A rack's logs of one device: two hours at a row a second each, by cable and by pad in turn, and the study that names
/// them.</summary>
internal static class Rack
{
    /// <summary>Rows of a log.</summary>
    public const int Rows = 7200;

    private const double VoltageV = 5.1;

    /// <summary>Writes logs and study.</summary>
    /// <returns>Bytes of all logs.</returns>
    public static long Write(string folder, int logs)
    {
        Directory.CreateDirectory(folder);
        var study = new StringBuilder("title = \"A rack\"\nreference = \"cable\"\n\n[meters.bench]\npoint = \"usb\"\n"
            + "accuracy = { voltage = \"0.05 % + 2 mV\", current = \"0.1 % + 1 mA\" }\nsamples = \"instantaneous\"\n\n"
            + "[methods.cable]\nkind = \"wired\"\n\n[methods.pad]\nkind = \"inductive\"\n");
        long bytes = 0;
        for (int i = 0; i < logs; i++)
        {
            string name = InvariantText.Of($"log-{i + 1}.csv");
            string method = i % 2 == 0 ? "cable" : "pad";
            study.Append(InvariantText.Of(
                $"\n[[runs]]\nmethod = \"{method}\"\nlogs = {{ usb = {{ file = \"{name}\", meter = \"bench\" }} }}\n"));
            string path = Path.Combine(folder, name);
            WriteLog(path, new Random(i), Rows, 1, i % 2 == 0 ? 1.9 : 2.6);
            bytes += new FileInfo(path).Length;
        }

        File.WriteAllText(Path.Combine(folder, "study.toml"), study.ToString());
        return bytes;
    }

    /// <summary>Writes one log: two minutes waiting, a constant current, its taper, and full for the last sixth.</summary>
    public static void WriteLog(string path, Random dice, int rows, double intervalS, double amperes)
    {
        using var file = new StreamWriter(path);
        file.Write("time_s,voltage_V,current_A\n");
        int full = rows * 5 / 6, taper = rows / 2, wait = Math.Min(rows / 60, (int)(120 / intervalS));
        amperes *= 1 + (0.01 * (dice.NextDouble() - 0.5));
        for (int i = 0; i < rows; i++)
        {
            double a = i < wait ? 0.02
                : i < taper ? amperes
                : i < full ? amperes * Math.Exp(-3.0 * (i - taper) / (full - taper))
                : 0.03;
            a += 0.002 * (dice.NextDouble() - 0.5);
            double v = VoltageV - (0.05 * a) + (0.002 * (dice.NextDouble() - 0.5));
            file.Write(InvariantText.Of($"{i * intervalS:0.###},{v:F4},{a:F4}\n"));
        }
    }
}
