using System.Reflection;
using ChargeAudit.Cli;
using ChargeAudit.Documents;
using PublicApiGenerator;

namespace ChargeAudit.Tests.House;

/// <summary>What the libraries offer stands in one file each, so that no change of it goes unseen or happens by accident.</summary>
public sealed class PublicApiTests
{
    private static readonly string Golden =
        Path.Combine(GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory), "tests", "ChargeAudit.Tests", "House", "PublicApi");

    public static TheoryData<string> Libraries => [.. Shipped().Select(a => a.GetName().Name!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Libraries))]
    public void The_public_API_of_a_library_is_what_its_file_says(string library)
    {
        string now = Shipped().Single(a => a.GetName().Name == library)
            .GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false }).ReplaceLineEndings("\n").TrimEnd() + "\n";
        string file = Path.Combine(Golden, $"{library}.txt");
        if (!File.Exists(file) || File.ReadAllText(file).ReplaceLineEndings("\n") != now)
        {
            string made =
                Path.Combine(Directory.CreateDirectory(Path.Combine(AppContext.BaseDirectory, "PublicApi")).FullName, $"{library}.txt");
            File.WriteAllText(made, now);
            Assert.Fail(
                $"the public API of {library} is not what {file} says; compare that with {made}, and if the change is meant, copy it over");
        }
    }

    [Fact]
    public void No_file_is_left_of_a_library_that_is_gone() =>
        Assert.Equal(Libraries.Select(l => l.Data), Directory.GetFiles(Golden).Select(f => Path.GetFileNameWithoutExtension(f))
            .Order(StringComparer.Ordinal));

    private static IEnumerable<Assembly> Shipped() =>
        Reachability.Shipped(typeof(ChargeAuditProgram).Assembly).Where(a => a != typeof(ChargeAuditProgram).Assembly);
}
