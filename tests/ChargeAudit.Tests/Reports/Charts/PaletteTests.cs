using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Reports.Charts;

namespace ChargeAudit.Tests.Reports.Charts;

/// <summary>
/// Methods stay apart for readers who see no red or no green. <i>Source:</i> G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A
/// Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (6),
/// 2009, 1291, doi:10.1109/TVCG.2009.113: matrices of severity 1.0 on linear RGB, compared digit by digit with the tables of G. M.
/// Machado's thesis (2010, hdl.handle.net/10183/26950) as a library of colour science carries them; CIE 15 for CIELAB; IEC 61966-2-1 for
/// sRGB; WCAG 2.2, 1.4.11 for the contrast of 3 : 1.
/// </summary>
public sealed class PaletteTests
{
    // 20 is about nine just noticeable differences of 2.3: apart at a glance, also as a thin line.
    private const double FarApart = 20;
    private const int Count = 6;

    private static readonly double[][] Usual = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
    private static readonly double[][] NoRed = [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998]];
    private static readonly double[][] NoGreen = [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881]];
    private static readonly double[][] ToXyz = [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750],
        [0.0193339, 0.1191920, 0.9503041]];

    public static TheoryData<string> Eyes => ["usual", "no red", "no green"];

    [Theory]
    [MemberData(nameof(Eyes))]
    public void Any_two_methods_are_far_apart_to_every_eye(string eye)
    {
        var seen = Enumerable.Range(0, Count).Select(i => Lab(Palette.Hex(i), Matrix(eye))).ToList();
        for (int i = 0; i < Count; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double distance = Math.Sqrt(seen[i].Zip(seen[j], (a, b) => (a - b) * (a - b)).Sum());
                Assert.True(distance >= FarApart, $"{Palette.Hex(i)} and {Palette.Hex(j)} are {distance:F1} apart ({eye})");
            }
        }
    }

    [Fact]
    public void The_simulation_tells_red_from_green_only_to_the_usual_eye()
    {
        Assert.True(Distance("#C04000", "#607000", Usual) > 40);
        Assert.True(Distance("#C04000", "#607000", NoRed) < Distance("#C04000", "#607000", Usual) / 2);
    }

    [Fact]
    public void Every_line_stands_out_from_the_card() => Assert.All(
        Enumerable.Range(0, Count), i =>
            Assert.True((Luminance("#FBFBF8") + 0.05) / (Luminance(Palette.Hex(i)) + 0.05) >= 3, Palette.Hex(i)));

    [Fact]
    public void Small_text_stands_out_from_any_strip_that_it_is_written_on()
    {
        foreach (int method in Enumerable.Range(0, Count))
        {
            foreach (var mode in Enum.GetValues<Mode>())
            {
                foreach (double white in (double[])[0, 0.15, 0.45, 0.6, 0.8])
                {
                    var strip = Palette.Over(Palette.Of(method).WithAlpha(Palette.Strength(mode)), Palette.Card);
                    var fill = Palette.Over(ScottPlot.Colors.White.WithAlpha(white), strip);
                    double text = Luminance(Palette.TextOn(fill).ToHex()), ground = Luminance(fill.ToHex());
                    Assert.True((Math.Max(text, ground) + 0.05) / (Math.Min(text, ground) + 0.05) >= 4.45,
                        $"{Palette.Hex(method)} {mode} {white}");
                }
            }
        }
    }

    // Ink turns light on a dark page, and a fill that hides the card does not.
    [Theory]
    [InlineData("#0072B2")]
    [InlineData("#E5A275")]
    [InlineData("#FFF0B8")]
    [InlineData("#142C54")]
    public void Text_on_a_fill_that_hides_the_card_is_black_or_white(string hex)
    {
        var text = Palette.TextOnOpaque(ScottPlot.Color.FromHex(hex));
        Assert.Contains(text, (ScottPlot.Color[])[ScottPlot.Colors.Black, ScottPlot.Colors.White]);
        Assert.True((Math.Max(Luminance(text.ToHex()), Luminance(hex)) + 0.05) / (Math.Min(Luminance(text.ToHex()), Luminance(hex)) + 0.05)
            >= 4.5, hex);
    }

    [Fact]
    public void Black_on_white_has_the_contrast_that_the_guideline_gives_it() =>
        Assert.Equal(21, Palette.Contrast(ScottPlot.Colors.Black, ScottPlot.Colors.White), 1e-9);

    private static double[][] Matrix(string eye) => eye switch
    {
        "usual" => Usual,
        "no red" => NoRed,
        _ => NoGreen,
    };

    private static double Distance(string a, string b, double[][] eye) =>
        Math.Sqrt(Lab(a, eye).Zip(Lab(b, eye), (x, y) => (x - y) * (x - y)).Sum());

    private static double[] Lab(string hex, double[][] eye)
    {
        double[] xyz = Times(ToXyz, [.. Times(eye, Linear(hex)).Select(v => Math.Clamp(v, 0, 1))]);
        double[] f = [.. xyz.Zip(ToXyz.Select(row => row.Sum()), (v, white) => Root(v / white))];
        return [(116 * f[1]) - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])];

        static double Root(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : ((24389.0 / 27 * t) + 16) / 116;
    }

    private static double Luminance(string hex) => Times(ToXyz, Linear(hex))[1];

    private static double[] Linear(string hex) =>
        [.. new[] { 1, 3, 5 }.Select(i => Convert.ToInt32(hex.Substring(i, 2), 16) / 255.0)
        .Select(c => c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4))];

    private static double[] Times(double[][] matrix, double[] v) => [.. matrix.Select(row => row.Zip(v, (a, b) => a * b).Sum())];
}
