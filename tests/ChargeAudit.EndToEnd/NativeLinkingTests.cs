using System.Runtime.InteropServices;

namespace ChargeAudit.EndToEnd;

/// <summary>Which compiler links the native program.</summary>
public sealed class NativeLinkingTests
{
    [Theory]
    [InlineData("linux-x64", "", "")]
    [InlineData("linux-arm64", "", "aarch64-linux-gnu-gcc")]
    [InlineData("linux-arm64", "clang", "clang")]
    [InlineData("win-arm64", "", "")]
    public void Linux_on_arm64_is_linked_by_the_cross_compiler_on_another_processor_unless_one_is_named(
        string platform, string named, string expected)
    {
        string other = RuntimeInformation.OSArchitecture == Architecture.Arm64 ? "" : "aarch64-linux-gnu-gcc";
        string[] choice = named.Length > 0 ? [$"-p:CppCompilerAndLinker={named}"] : [];
        var asked = Run.Process(
            Repository.Root,
            "dotnet",
            ["msbuild", Path.Combine("src", "ChargeAudit.Cli"), $"-p:RuntimeIdentifier={platform}", .. choice,
                "-getProperty:CppCompilerAndLinker"]);
        Assert.True(asked.Status == 0, asked.Output + asked.Error);
        Assert.Equal(expected == "aarch64-linux-gnu-gcc" ? other : expected, asked.Output.Trim());
    }
}
