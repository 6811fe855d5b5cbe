using ChargeAudit.Logs;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

public sealed class NameWordsTests
{
    [Theory]
    [InlineData("cable-1-usb.csv", MethodKind.Wired, MeasuringPoint.Usb)]
    [InlineData("Pad2_Wall.TXT", MethodKind.Inductive, MeasuringPoint.Wall)]
    [InlineData("wirelessCharge mains.csv.gz", MethodKind.Inductive, MeasuringPoint.Wall)]
    [InlineData("Ladekabel Steckdose.xlsx", MethodKind.Wired, MeasuringPoint.Wall)]
    [InlineData("kabellos.csv", MethodKind.Inductive, null)]
    [InlineData("câble.csv", MethodKind.Wired, null)]
    [InlineData("induc\u0327a\u0303o.csv", MethodKind.Inductive, null)]
    [InlineData("sans fil.csv", MethodKind.Inductive, null)]
    [InlineData("stand 3.csv", MethodKind.Inductive, null)]
    [InlineData("padlock-notes.csv", null, null)]
    [InlineData("log14.csv", null, null)]
    [InlineData("pad/run-3-device.csv", MethodKind.Inductive, MeasuringPoint.Device)]
    [InlineData("wall/cable 3.csv", MethodKind.Wired, MeasuringPoint.Wall)]
    [InlineData("pad/cable-1.csv", MethodKind.Wired, null)]
    public void Words_of_the_path_say_kind_and_point(string path, MethodKind? kind, MeasuringPoint? point)
    {
        var words = NameWords.Of(path);
        Assert.Equal((kind, point), (words.Kind, words.Point));
    }

    [Theory]
    [InlineData("pad-waiting-wall.csv", true)]
    [InlineData("stand-by pad.csv", true)]
    [InlineData("no load.csv", true)]
    [InlineData("idle/pad.csv", true)]
    [InlineData("stand.csv", false)]
    public void Words_of_the_path_say_that_a_charger_waits(string path, bool waits) =>
        Assert.Equal(waits, NameWords.Of(path).WaitingWord is not null);

    [Fact]
    public void Words_of_both_kinds_decide_nothing_and_are_told()
    {
        var words = NameWords.Of("pad-with-cable.csv");
        Assert.Null(words.Kind);
        Assert.Equal("cable\" and \"pad", words.KindWord);
    }

    [Theory]
    [InlineData("cable-1-usb.csv", "cable-1-wall.csv.gz")]
    [InlineData("usb/cable-1.csv", "wall/Cable_1.csv")]
    [InlineData("Run 7 (device).csv", "run7 wall.csv")]
    public void Two_logs_of_one_run_have_one_stem(string one, string other) =>
        Assert.Equal(NameWords.Of(one).Stem, NameWords.Of(other).Stem);

    [Fact]
    public void The_folder_that_names_the_kind_is_kept() => Assert.Equal("black pad", NameWords.Of("black pad/1.csv").KindFolder);
}
