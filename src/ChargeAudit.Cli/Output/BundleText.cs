using ChargeAudit.Metrology;
using ChargeAudit.Reports.Bundles;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>bundle</c> prints for people.</summary>
internal static class BundleText
{
    private const int MostShown = 20;

    public static void Written(TerminalText text, string path, string sha256, int files)
    {
        text.Title($"Written: {path}");
        text.Bullets(
        [
            InvariantText.Of($"It holds the study with its logs ({files} {(files == 1 ? "file" : "files")}), results.json, report.html "
                + $"and the hash of each."),
            $"SHA-256 of its list of files, which stands for the bundle and in its report: {sha256}",
            "chargeaudit bundle --verify on it checks every byte and works every figure out again.",
        ]);
    }

    public static void Verified(TerminalText text, string path, BundleVerification verification)
    {
        text.Title(verification.Holds ? $"{path} holds" : $"{path} does not hold");
        text.Line($"SHA-256 of its list of files: {verification.Sha256}; made with {verification.MadeWith}.");
        if (verification.Damage.Count > 0)
        {
            text.Bullets([.. verification.Damage, "The figures were not worked out again, as they would be those of other files."]);
            return;
        }

        int differing = verification.Differences.Count;
        text.Bullets(
        [
            "Every file has the hash that the bundle was made with.",
            InvariantText.Of($"{verification.FiguresCompared} figures were worked out again; ")
                + (differing == 0 ? "all are the same, to nine digits." : InvariantText.Of($"{differing} values differ:")),
            .. verification.Differences.Take(MostShown).Select(Told),
            .. differing > MostShown ? [InvariantText.Of($"and {differing - MostShown} more (--format json lists all)")]
                : Array.Empty<string>(),
        ]);
    }

    private static string Told(FigureDifference d) => $"{d.Where}: {d.Was ?? "nothing"} in the bundle, {d.Is ?? "nothing"} now"
        + (d.Difference is { } by ? Prose.Of($" (by {by:G3})") : "");
}
