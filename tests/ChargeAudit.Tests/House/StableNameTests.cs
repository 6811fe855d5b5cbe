using System.Reflection;
using System.Text.Json.Serialization;
using ChargeAudit.Cli;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.House;

/// <summary>The words that stand in files are written beside the members of an enum, and never made from how the code spells
/// them.</summary>
public sealed class StableNameTests
{
    [Fact]
    public void A_member_is_called_what_the_schema_of_the_results_calls_it()
    {
        Assert.Equal("no-load", StableName.Of(Mode.NoLoad));
        Assert.Equal("average-ending", StableName.Of(SampleKind.AverageEnding));
        Assert.Equal("power-factor", StableName.Of(LogQuantity.PowerFactor));
    }

    [Fact]
    public void An_enum_names_all_its_members_or_none_and_no_two_alike()
    {
        var enums = Reachability.Shipped(typeof(ChargeAuditProgram).Assembly).SelectMany(a => a.GetTypes()).Where(t => t.IsEnum)
            .Select(t => (t.Name, Names: Members(t).Select(m => m.GetCustomAttribute<JsonStringEnumMemberNameAttribute>()?.Name).ToList()))
            .Where(e => e.Names.Any(n => n is not null)).ToList();
        Assert.Contains(enums, e => e.Name == nameof(FaultKind));
        Assert.All(enums, e => Assert.True(e.Names.All(n => n is not null) && e.Names.Distinct().Count() == e.Names.Count, e.Name));
    }

    [Fact]
    public void A_member_without_a_name_is_refused() => Assert.Throws<ArgumentException>(() => StableName.Of(DayOfWeek.Monday));

    private static FieldInfo[] Members(Type type) => type.GetFields(BindingFlags.Public | BindingFlags.Static);
}
