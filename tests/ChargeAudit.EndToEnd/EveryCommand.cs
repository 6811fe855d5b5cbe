namespace ChargeAudit.EndToEnd;

/// <summary>One use of every command that ends by itself, on a copy of the sample study.</summary>
internal static class EveryCommand
{
    public static IEnumerable<(string Command, string[] Arguments)> In(TemporaryFolder folder)
    {
        string In(string name) => Path.Combine(folder.Path, name);
        string study = folder.SampleLogs();
        yield return ("audit", ["audit", study, "--out", In("report"), "--details", "--budget"]);
        yield return ("check", ["check", Candidate(folder), "--baseline", Path.Combine(In("report"), "results.json"), "--margin", "2%"]);
        yield return ("measure", ["measure", In("pad-2-usb.csv"), In("cable-1-wall.csv")]);
        yield return ("watch", ["watch", folder.File("watched.csv", WatchTests.Charge(fullS: 2400)), "--until", "full", "--every", "0.05"]);
        yield return ("summarize", ["summarize", "--study", study, "--out", In("summaries")]);
        yield return ("inspect", ["inspect", In("pad-2-usb.csv")]);
        yield return ("plan",
            ["plan", "--resolution", "3%", "--repeatability", "1%", "--accuracy", "0.5 % + 10 mW", "--charge-power", "8W", "--charge-time",
            "6000s", "--standby-power", "150mW"]);
        yield return ("bundle", ["bundle", study, "--out", In("audit.zip")]);
        yield return ("bundle", ["bundle", "--verify", In("audit.zip")]);
        yield return ("pool", ["pool", Path.Combine(In("report"), "results.json"), "--out", In("pool")]);
        yield return ("simulate",
            ["simulate", Path.Combine(Repository.Root, "docs", "scenarios", "01-earbud-case.toml"), "--out", In("simulated")]);
        yield return ("coils",
            ["coils", "--primary", "24uH", "--primary-capacitance", "100nF", "--secondary", "12uH", "--coupling", "0.4",
            "--primary-resistance", "0.1ohm", "--secondary-resistance", "0.1ohm", "--frequency", "110kHz"]);
        yield return ("draft", ["draft", Path.Combine(folder.Path, "candidate"), "--out", In("drafted.toml")]);
    }

    // A check wants logs that are not the baseline's own: these end a row earlier.
    private static string Candidate(TemporaryFolder folder)
    {
        string candidate = Directory.CreateDirectory(Path.Combine(folder.Path, "candidate")).FullName;
        foreach (string log in Directory.GetFiles(folder.Path, "*.csv"))
        {
            File.WriteAllLines(Path.Combine(candidate, Path.GetFileName(log)), File.ReadAllLines(log).SkipLast(1));
        }

        string study = Path.Combine(candidate, "study.toml");
        File.Copy(Path.Combine(folder.Path, "study.toml"), study);
        return study;
    }
}
