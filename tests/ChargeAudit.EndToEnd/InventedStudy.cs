using System.Globalization;
using System.Text;

namespace ChargeAudit.EndToEnd;

/// <summary>Small studies of constant levels, written log by log, whose figures a person can work out by hand.</summary>
internal static class InventedStudy
{
    /// <summary>A log of interval averages, one a minute.</summary>
    public static void Log(TemporaryFolder folder, string name, params (int Minutes, double PowerW)[] parts) =>
        Log(folder, name, 60, parts);

    private static void Log(TemporaryFolder folder, string name, int stepS, (int Minutes, double PowerW)[] parts)
    {
        var text = new StringBuilder("Elapsed (s),Power (W)\n");
        int row = 0;
        foreach (var (minutes, power) in parts)
        {
            for (int i = 0; i < minutes * 60 / stepS; i++)
            {
                row++;
                text.Append(CultureInfo.InvariantCulture, $"{row * stepS},{power:0.000}\n");
            }
        }

        folder.File(name, text.ToString());
    }

    /// <summary>A cable and a pad, each logged at the wall for a whole day from the start of a charge, and waiting for an hour.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="device">Lines of <c>[device]</c>.</param>
    /// <param name="more">What else the study says.</param>
    public static string Day(TemporaryFolder folder, string device, string more = "")
    {
        Log(folder, "cable.csv", (10, 0.05), (150, 6.4), (1300, 0.5));
        Log(folder, "pad.csv", (10, 0.25), (180, 8.0), (1270, 1.2));
        Log(folder, "cable-waiting.csv", (60, 0.05));
        Log(folder, "pad-waiting.csv", (60, 0.25));
        return folder.File("study.toml", $$"""
            title = "A day each"
            reference = "cable"
            [device]
            {{device}}
            [meters.plug]
            point = "wall"
            accuracy = { power = "1 % + 0.01 W" }
            samples = "average-ending"
            [methods.cable]
            kind = "wired"
            [methods.pad]
            kind = "inductive"
            purchase-price = 29
            [[runs]]
            method = "cable"
            logs = { wall = { file = "cable.csv", meter = "plug" } }
            [[runs]]
            method = "pad"
            logs = { wall = { file = "pad.csv", meter = "plug" } }
            [[standby]]
            method = "cable"
            logs = { wall = { file = "cable-waiting.csv", meter = "plug" } }
            [[standby]]
            method = "pad"
            logs = { wall = { file = "pad-waiting.csv", meter = "plug" } }
            [use]
            charges-per-week = 7
            hours-on-charger-per-charge = 8
            {{more}}
            """);
    }

    /// <summary>A cable and a pad measured at the adapter's output alone.</summary>
    /// <param name="folder">Where to.</param>
    /// <param name="more">What else the study says.</param>
    public static string UsbOnly(TemporaryFolder folder, string more)
    {
        Log(folder, "cable-usb.csv", (10, 0.0), (120, 6.0), (60, 0.2));
        Log(folder, "pad-usb.csv", (10, 0.12), (150, 7.0), (60, 0.7));
        Log(folder, "pad-usb-waiting.csv", (60, 0.12));
        return folder.File("study.toml", $$"""
            title = "Only the DC side"
            reference = "cable"
            [meters.bench]
            point = "usb"
            accuracy = { power = "0.2 % + 2 mW" }
            samples = "average-ending"
            [methods.cable]
            kind = "wired"
            [methods.pad]
            kind = "inductive"
            [[runs]]
            method = "cable"
            logs = { usb = { file = "cable-usb.csv", meter = "bench" } }
            [[runs]]
            method = "pad"
            logs = { usb = { file = "pad-usb.csv", meter = "bench" } }
            [[standby]]
            method = "pad"
            logs = { usb = { file = "pad-usb-waiting.csv", meter = "bench" } }
            [use]
            hours-on-charger-per-charge = 8
            {{more}}
            """);
    }

    /// <summary>A cable measured at wall and usb, through an adapter of 0.10 W + 1.15 · output, and a pad measured at usb alone.</summary>
    /// <param name="folder">Where to.</param>
    public static string SameAdapter(TemporaryFolder folder)
    {
        (int, double)[] cable = [(10, 0), (20, 8), (7, 6.9), (13, 8), (4, 6.5), (16, 8), .. Enumerable.Range(1, 90)
            .Select(k => (1, 8 * Math.Pow(0.97, k))), (60, 0.2)];
        Log(folder, "cable-usb.csv", 10, cable);
        Log(folder, "cable-wall.csv", 10, [.. cable.Select(p => (p.Item1, 0.10 + (1.15 * p.Item2)))]);
        Log(folder, "cable-waiting.csv", (60, 0.10));
        Log(folder, "pad-usb.csv", (10, 0.12), (150, 7.0), (60, 0.7));
        Log(folder, "pad-usb-waiting.csv", (60, 0.12));
        return folder.File("study.toml", """
            title = "One adapter"
            reference = "cable"
            [meters.bench]
            point = "usb"
            accuracy = { power = "0.2 % + 2 mW" }
            samples = "average-ending"
            [meters.plug]
            point = "wall"
            accuracy = { power = "1 % + 0.01 W" }
            samples = "average-ending"
            [methods.cable]
            kind = "wired"
            [methods.pad]
            kind = "inductive"
            [[runs]]
            method = "cable"
            logs = { usb = { file = "cable-usb.csv", meter = "bench" }, wall = { file = "cable-wall.csv", meter = "plug" } }
            [[runs]]
            method = "pad"
            logs = { usb = { file = "pad-usb.csv", meter = "bench" } }
            [[standby]]
            method = "cable"
            logs = { wall = { file = "cable-waiting.csv", meter = "plug" } }
            [[standby]]
            method = "pad"
            logs = { usb = { file = "pad-usb-waiting.csv", meter = "bench" } }
            """);
    }
}
