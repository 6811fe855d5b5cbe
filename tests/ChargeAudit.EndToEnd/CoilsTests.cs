using System.Text;
using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>The physics of two coils from the command line: text, JSON, chart and refusals.</summary>
public sealed class CoilsTests : IDisposable
{
    private static readonly string[] Link =
        ["coils", "--primary", "24uH", "--secondary", "12uH", "--coupling", "0.3", "--frequency", "127.7kHz", "--primary-quality", "100",
            "--secondary-quality", "40"];

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_coil_of_1_1_mH_with_100_nF_resonates_at_15_2_kHz()
    {
        // Common practice, no source; 1/(2π√(1.1 mH · 100 nF)) = 15.175 kHz.
        var run = Run.Of("coils", "--primary", "1.1mH", "--primary-capacitance", "100nF");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Contains("15.17 kHz", run.Output, StringComparison.Ordinal);
        var document = Run.Of("coils", "--primary", "1.1mH", "--primary-capacitance", "100nF", "--format", "json").Json;
        ResultsSchema.Holds(document);
        double hertz = document.GetProperty("primaryResonanceHz").GetDouble();
        Assert.InRange(hertz, 15.15e3, 15.25e3);
    }

    [Fact]
    public void Coupling_0_3_with_qualities_100_and_40_allows_nine_tenths()
    {
        var run = Run.Of([.. Link, "--format", "json"]);
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Equal("chargeaudit-coils/1", run.Json.GetProperty("schema").GetString());
        ResultsSchema.Holds(run.Json);
        Assert.Equal(0.9, run.Json.GetProperty("link").GetProperty("maximumEfficiency").GetDouble(), 1e-12);
        Assert.Equal(
            ["none", "series-series", "series-parallel"], run.Json.GetProperty("circuits").EnumerateArray()
                .Select(c => c.GetProperty("compensation").GetString()));
        string text = Run.Of(Link).Output;
        Assert.Contains("90.0 %", text, StringComparison.Ordinal);
        Assert.Contains("implants", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_small_load_at_tight_coupling_splits_the_peak()
    {
        JsonElement Sweep(string load) => Run.Of([.. Link, "--load", load, "--format", "json"]).Json.GetProperty("sweep");
        Assert.True(Sweep("1ohm").GetProperty("split").GetBoolean());
        Assert.Equal(3, Sweep("1ohm").GetProperty("zeroPhaseHz").GetArrayLength());
        Assert.False(Sweep("20ohm").GetProperty("split").GetBoolean());
    }

    [Fact]
    public void The_chart_is_a_png_or_an_svg_by_its_name()
    {
        foreach (string name in (string[])["coils.png", "coils.svg"])
        {
            var run = Run.In(_folder.Path, [.. Link, "--load", "1ohm", "--chart", name]);
            Assert.Equal((0, ""), (run.Status, run.Error));
        }

        byte[] png = File.ReadAllBytes(Path.Combine(_folder.Path, "coils.png"));
        Assert.Equal("\u0089PNG", Encoding.Latin1.GetString(png, 0, 4));
        string svg = File.ReadAllText(Path.Combine(_folder.Path, "coils.svg"));
        Assert.Contains("k = 0.30 (given)", svg, StringComparison.Ordinal);
        Assert.Contains("(splits from here)", svg, StringComparison.Ordinal);
        Assert.Contains("frequency [kHz]", svg, StringComparison.Ordinal);
        Assert.Equal(2, Directory.GetFiles(_folder.Path).Length);
    }

    [Fact]
    public void A_chart_that_cannot_be_written_is_73_and_leaves_nothing()
    {
        Directory.CreateDirectory(Path.Combine(_folder.Path, "taken.svg"));
        OneSentence(Run.In(_folder.Path, [.. Link, "--chart", "taken.svg"]), 73, "--chart");
        Assert.Empty(Directory.GetFiles(_folder.Path));
    }

    [Theory]
    [InlineData("--primary", "1.1mF", "'primary' is \"1.1mF\"")]
    [InlineData("--primary", "0H", "above zero")]
    [InlineData("--coupling", "1.5", "coupling")]
    [InlineData("--primary-resistance", "1ohm", "take one of them out")]
    [InlineData("--gap", "4mm", "primary-turns")]
    [InlineData("--chart", "coils.jpg", ".png or .svg")]
    public void A_wrong_value_is_64_with_one_sentence(string option, string value, string mentions)
    {
        List<string> arguments = [.. Link];
        int at = arguments.IndexOf(option);
        if (at >= 0)
        {
            arguments[at + 1] = value;
        }
        else
        {
            arguments.AddRange([option, value]);
        }

        OneSentence(Run.In(_folder.Path, [.. arguments]), 64, mentions);
        Assert.Empty(Directory.GetFiles(_folder.Path));
    }

    [Fact]
    public void Nothing_known_too_little_known_and_a_chart_without_a_link_are_64()
    {
        OneSentence(Run.Of("coils"), 64, "--primary");
        OneSentence(Run.Of("coils", "--primary", "24uH"), 64, "too little");
        OneSentence(Run.In(_folder.Path, "coils", "--primary", "24uH", "--primary-capacitance", "100nF", "--chart", "c.svg"), 64,
            "secondary");
    }

    private static void OneSentence(Run run, int status, string mentions)
    {
        Assert.Equal((status, ""), (run.Status, run.Output));
        Assert.StartsWith("chargeaudit: ", run.Error, StringComparison.Ordinal);
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
    }
}
