using ChargeAudit.Cli;

namespace ChargeAudit.Tests.House;

/// <summary>Code that no command reaches is used, moved to the tests, or deleted.</summary>
public sealed class NoDeadWingTests
{
    // What no command reaches but stays all the same, and why. The list may only become shorter.
    private static readonly Dictionary<string, string> Kept = new(StringComparer.Ordinal)
    {
        ["Triangulation.get_Triangles"] = "shows a test that the triangles are Delaunay's; the surface asks one point at a time",
        ["UnitTable.get_All"] = "shows a test that every unit has a value from outside",
        ["MeterAccuracy.Parse"] = "for programs that state an accuracy in code",
        ["RatioOfMeans.Compare"] = "of means of runs: says in words what few runs leave open, for users of the library",
        ["LogFile.ReadIntoAsync"] = "for programs that must not wait; a command may",
        ["LogMeasurer.MeasureAsync"] = "for programs that must not wait; a command may",
    };

    [Fact]
    public void Every_method_is_reached_from_a_command()
    {
        var program = typeof(ChargeAuditProgram).Assembly;
        var reached = new Reachability([program.EntryPoint!, .. typeof(ChargeAuditProgram).GetMethods()]);

        // The namespaces of a method move with the rooms of the house; its own and its type's name stay.
        static string Short(string name) => string.Join('.', name.Split('.')[^2..]);
        var unreached = reached.Unreached(Reachability.Shipped(program));
        var dead = unreached.Where(m => !Kept.ContainsKey(Short(m))).ToList();
        Assert.True(dead.Count == 0, "nothing reaches:\n" + string.Join('\n', dead));
        Assert.All(Kept.Keys, name => Assert.Contains(name, unreached.Select(Short)));
    }

    // The check itself is checked: what the program certainly reaches, and what it certainly does not.
    [Fact]
    public void What_is_reached_and_what_is_not_are_told_apart()
    {
        var nothing = new Reachability([]);
        Assert.Contains("ChargeAudit.Cli.ChargeAuditProgram.RunAsync", nothing.Unreached([typeof(ChargeAuditProgram).Assembly]));
    }
}
