using System.Diagnostics;
using System.Reflection;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.House;

/// <summary>Build, tests and main job share one configuration, so that what is tested is what is shipped.</summary>
public class OneConfigurationTests
{
    [Fact]
    public void The_solution_lists_the_released_configuration_only()
    {
        string[] configurations = [.. File.ReadLines(Golden.RepositoryFile("ChargeAudit.sln"))
            .Where(line => line.Contains(".ActiveCfg", StringComparison.Ordinal))
            .Select(line => line[(line.LastIndexOf('=') + 1)..].Trim())
            .Distinct()];

        Assert.Equal(["Release|Any CPU"], configurations);
    }

    [Fact]
    public void The_library_under_test_is_compiled_as_it_is_shipped()
    {
        var library = typeof(Measured).Assembly;

        Assert.Equal("Release", library.GetCustomAttribute<AssemblyConfigurationAttribute>()!.Configuration);
        Assert.False(library.GetCustomAttribute<DebuggableAttribute>()?.IsJITOptimizerDisabled ?? false);
    }
}
