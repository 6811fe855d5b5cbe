using System.Diagnostics;
using System.Globalization;
using ChargeAudit.LogMaker;
using ChargeAudit.LogMaker.Damage;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Measuring.Damage;

namespace ChargeAudit.Benchmarks.Reliability;

/// <summary>
/// <c>reach-damage [--logs N] [--seed S] [--kinds WORDS] [--sound WORDS] [--list FILE] [--write DIR]</c>: what becomes of damaged logs, and
/// how many sound logs are flagged. Words that no kind has leave one of the two out.
/// </summary>
internal static class ReachDamageCommand
{
    private const string Usage = "reach-damage [--logs N] [--seed S] [--kinds WORDS] [--sound WORDS] [--list FILE] [--write DIR].";

    public static int Run(string[] arguments, TextWriter output)
    {
        Dictionary<string, string> given = [];
        for (int i = 0; i < arguments.Length; i += 2)
        {
            if (i + 1 == arguments.Length || arguments[i] is not ("--logs" or "--seed" or "--kinds" or "--list" or "--write" or "--sound"))
            {
                output.WriteLine(Usage);
                return 64;
            }

            given[arguments[i]] = arguments[i + 1];
        }

        int logs = int.Parse(given.GetValueOrDefault("--logs", "200"), CultureInfo.InvariantCulture);
        ulong seed = ulong.Parse(given.GetValueOrDefault("--seed", "1"), CultureInfo.InvariantCulture);
        var clock = Stopwatch.StartNew();
        using TextWriter? list = given.TryGetValue("--list", out string? file) ? new StreamWriter(file) : null;
        string sound = given.GetValueOrDefault("--sound", "");
        SoundKind[] soundKinds = [.. SoundKinds.All.Where(k => k.Name.Contains(sound, StringComparison.Ordinal))];
        bool clean = Sound(soundKinds, logs, seed, list, given.GetValueOrDefault("--write"), output);
        string words = given.GetValueOrDefault("--kinds", "");
        DamageKind[] kinds = [.. DamageKind.All.Where(k => (k.Family + ", " + k.Name).Contains(words, StringComparison.Ordinal))];
        DamageTally tally = Damaged(kinds, logs, seed, list, given.GetValueOrDefault("--write"));
        output.Write(tally.ToMarkdown());
        int silent = tally.Of(DamageOutcome.OutsideSilent);
        output.WriteLine();
        output.WriteLine(InvariantText.Of(
            $"Seed {seed}: {string.Join(", ", Enum.GetValues<DamageOutcome>().Select(o => $"{o} {tally.Of(o)}"))}; "
                + $"{clock.Elapsed.TotalSeconds:F0} s."));
        return silent == 0 && clean ? 0 : 1;
    }

    private static bool Sound(SoundKind[] kinds, int logs, ulong seed, TextWriter? list, string? folder, TextWriter output)
    {
        output.WriteLine("| sound logs | logs | flagged |\n|---|---|---|");
        bool all = true;
        foreach (SoundKind kind in kinds)
        {
            int flagged = 0;
            for (ulong i = seed; i < seed + (ulong)logs; i++)
            {
                if (DamageTrial.Flag(kind.Make(i)) is { } flag)
                {
                    flagged++;
                    list?.WriteLine(InvariantText.Of($"FLAGGED {kind.Name}, seed {i}: {flag}"));
                    if (folder is not null)
                    {
                        Directory.CreateDirectory(folder);
                        File.WriteAllText(Path.Combine(folder, InvariantText.Of($"sound {kind.Name} {i}.csv")), kind.Make(i).Text());
                    }
                }
            }

            list?.Flush();
            all &= flagged * 200 <= logs;
            output.WriteLine(InvariantText.Of($"| {kind.Name} | {logs} | {flagged} |"));
        }

        output.WriteLine();
        return all;
    }

    // Each kind of damage goes through the kinds of sound logs that can have it.
    private static DamageTally Damaged(DamageKind[] kinds, int logs, ulong seed, TextWriter? list, string? folder)
    {
        DamageTally tally = new();
        Dictionary<(int, ulong), (SoundLog Log, DamageTrial.Found Found)> made = [];
        foreach (DamageKind kind in kinds)
        {
            int done = 0;
            for (int tried = 0; done < logs && tried < 20 * logs; tried++)
            {
                int sound = tried % SoundKinds.All.Count;
                ulong own = seed + (ulong)tried;
                if (!made.TryGetValue((sound, own), out var one))
                {
                    SoundLog log = SoundKinds.All[sound].Make(own);
                    made[(sound, own)] = one = (log, DamageTrial.Measure(log, log.Text()));
                }

                if (!kind.Applies(one.Log))
                {
                    continue;
                }

                ulong dice = (own * 1000) + (ulong)sound;
                if (kind.Text(one.Log, new Dice(dice)) is not { } text)
                {
                    continue;
                }

                done++;
                var (outcome, words) = DamageTrial.Of(one.Log, one.Found, text);
                tally.Add(kind, outcome);
                list?.WriteLine(
                    InvariantText.Of(
                        $"{outcome}: {kind.Family}, {kind.Name}; {SoundKinds.All[sound].Name}, seed {own}, every {one.Log.Meter.IntervalS} "
                    + $"s: {words}"));
                if (folder is not null && outcome is DamageOutcome.OutsideSilent or DamageOutcome.OutsideTold)
                {
                    Directory.CreateDirectory(folder!);
                    File.WriteAllText(
                        Path.Combine(folder!, InvariantText.Of($"{kind.Family} {kind.Name} {sound} {own}.csv").Replace('/', '-')), text);
                    File.WriteAllText(Path.Combine(folder!, InvariantText.Of($"{kind.Family} {kind.Name} {sound} {own}-sound.csv")
                        .Replace('/', '-')), one.Log.Text());
                }
            }

            list?.Flush();
        }

        return tally;
    }
}
