using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>The usual log of a usual meter: four hours with a row a second. Its measurement is nearly all start-up.</summary>
public static class FourHours
{
    public const int Rows = 4 * 3600;

    /// <summary>Writes the file.</summary>
    public static void Write(string path)
    {
        using var file = new StreamWriter(path);
        file.Write("time_s,voltage_V,current_A\n");
        for (int i = 0; i < Rows; i++)
        {
            double amperes = i < 5000 ? 1.9 : i < 10_000 ? 1.9 * Math.Exp(-(i - 5000) / 1200.0) : 0.012;
            file.Write(InvariantText.Of($"{i},{5.11 - (0.05 * amperes):F4},{amperes + (0.001 * (i % 3)):F4}\n"));
        }
    }
}
