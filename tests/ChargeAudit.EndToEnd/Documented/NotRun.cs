using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd.Documented;

/// <summary>Documented commands that are not run as they stand, each with the reason, or with the test that does run it.</summary>
internal static class NotRun
{
    private static readonly (string Page, Regex Command, string Reason)[] Exempt =
    [
        ("docs/refused-logs.md", Any, nameof(RefusedLogsTests)),
        ("docs/pool.md", Any, nameof(PoolTests)),
        ("docs/first-use.md", Any, nameof(FirstUseTests)),
        ("docs/scale.md", Any, "needs a scheduler and root; the scripts of tests/scale do it, from .ci/run"),
        (Everywhere, Starting("chargeaudit page"), nameof(PageTests)),
        (Everywhere, Starting("chargeaudit watch"), nameof(WatchTests)),
        (Everywhere, Starting("chargeaudit measure -$"), "reads standard input, which a test of reading gives it"),
        (Everywhere, Starting("dotnet pack"), nameof(PackedToolTests)),
        (Everywhere, Starting("dotnet run --project tests/ChargeAudit.Documents"), nameof(GeneratedDocumentsTests)),
        (Everywhere, Starting("dotnet run --project tests/ChargeAudit.Benchmarks"), "takes minutes to hours"),
        (Everywhere, Starting("dotnet publish"), "compiles for minutes"),
        (Everywhere, Starting("apt-get install"), "changes the machine"),
        (Everywhere, Starting("dotnet msbuild"), "builds beside the build that this test is part of"),
        (Everywhere, Starting("(CHARGEAUDIT_COVERAGE_SEEDS=1-40 )?dotnet test"), "is what runs this test"),
        (Everywhere, Starting("bash "), "a script of the repository, which builds"),
    ];

    private const string Everywhere = "";

    private static Regex Any => new("");

    /// <summary>Every exemption by its place in the list, so that none is kept that no command needs.</summary>
    public static IEnumerable<int> All => Enumerable.Range(0, Exempt.Length);

    /// <summary>Which exemption a command falls under; -1 where none.</summary>
    public static int For(string page, DocumentedExample example) =>
        Array.FindIndex(Exempt, e => (e.Page == Everywhere || e.Page == page) && e.Command.IsMatch(example.Command));

    public static string Text(int exemption) => $"{Exempt[exemption].Page} {Exempt[exemption].Command}: {Exempt[exemption].Reason}";

    private static Regex Starting(string pattern) => new($"^{pattern}");
}
