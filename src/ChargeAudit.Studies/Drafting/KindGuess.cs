using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>
/// Which charges ran by cable and which on a pad: decided by the words of names first, then by how the charger waits, then by energy, since
/// a pad uses more for the same charge. What nothing decides stays open.
/// </summary>
internal static class KindGuess
{
    /// <summary>At the adapter's output a waiting cable takes nothing; a waiting pad takes more than this. [W]</summary>
    private const double LeastPadWaitingW = 0.03;

    /// <summary>A waiting load of another kind differs by at least this factor. [1]</summary>
    private const double WaitingFactor = 1.5;

    /// <summary>Decides for all bundles.</summary>
    /// <param name="bundles">Logs written at the same time.</param>
    /// <returns>One entry for each charge or stretch of waiting, in the order of the bundles.</returns>
    public static IReadOnlyList<KindOfBundle> Of(IReadOnlyList<RunBundle> bundles)
    {
        var found = bundles.SelectMany(b => Enumerable.Range(0, Math.Max(1, b.Deciding.Facts.Charges.Count))
            .Select(i => ByNameOrWaiting(b, b.HoldsCharge ? i : null))).ToList();
        found = EnergySplit.Into(found);
        for (int i = 0; i < found.Count; i++)
        {
            if (found[i] is { Kind: null, Charge: null })
            {
                found[i] = ByOtherWaiting(found[i], found);
            }
        }

        return found;
    }

    private static KindOfBundle ByNameOrWaiting(RunBundle bundle, int? charge)
    {
        var named = bundle.Logs.Where(l => l.Words.KindWord is not null).OrderByDescending(l => l.Words.Told).ToList();
        if (named.Find(l => l.Words.Kind is null) is { } both)
        {
            return new KindOfBundle(bundle, null, charge,
                [DraftRemark.Question($"The name {both.Facts.File} says \"{both.Words.KindWord}\". Was it charged by cable or on a pad?")]);
        }

        if (named.Count > 0)
        {
            var by = named[0];
            if (by.Words.Told)
            {
                return new KindOfBundle(bundle, by.Words.Kind, charge,
                    [DraftRemark.Guess($"{PlainWords.Charged(by.Words.Kind!.Value)}, as you said.")]);
            }

            string where = by.Words.KindFolder is { } folder ? $"the folder \"{folder}\"" : "the name";
            return new KindOfBundle(bundle, by.Words.Kind, charge,
                [DraftRemark.Guess($"{PlainWords.Charged(by.Words.Kind!.Value)}, as {where} says \"{by.Words.KindWord}\".")]);
        }

        // A log of several charges may hold both kinds; how the charger waited then says nothing about each.
        return bundle.Deciding.Facts.Charges.Count <= 1 && ByWaiting(bundle) is { } because
            ? new KindOfBundle(bundle, MethodKind.Inductive, charge, [DraftRemark.Guess($"on a pad, as {because}.")])
            : new KindOfBundle(bundle, null, charge, []);
    }

    private static string? ByWaiting(RunBundle bundle)
    {
        foreach (var log in bundle.Logs)
        {
            if (log.Facts.Waiting is not { } waiting)
            {
                continue;
            }

            if (waiting.PulseW > 0)
            {
                return Prose.Of(
                    $"{log.Facts.File} shows short pulses up to {waiting.PulseW:0.##} W while waiting, like a pad that looks for a "
                    + $"device");
            }

            if (log.Point.Point == MeasuringPoint.Usb && waiting.MeanW >= LeastPadWaitingW)
            {
                return Prose.Of(
                    $"{log.Facts.File} shows {1000 * waiting.MeanW:0} mW at the adapter's output with no device, where a cable draws "
                    + $"nothing");
            }
        }

        return null;
    }

    private static KindOfBundle ByOtherWaiting(KindOfBundle open, List<KindOfBundle> all)
    {
        foreach (var log in open.Bundle.Logs.Where(l => l.Facts.Waiting is { MeanW: > 0 }))
        {
            var seen = all.Where(o => o.Kind is not null)
                .Select(o => (o.Kind, W: o.Bundle.At(log.Point.Point)?.Facts.Waiting?.MeanW))
                .Where(o => o.W is > 0)
                .ToLookup(o => o.Kind!.Value, o => Math.Log(o.W!.Value));
            double own = Math.Log(log.Facts.Waiting!.MeanW);
            if (!seen.Contains(MethodKind.Wired) || !seen.Contains(MethodKind.Inductive))
            {
                continue;
            }

            double wired = seen[MethodKind.Wired].Average(), inductive = seen[MethodKind.Inductive].Average();
            if (Math.Abs(wired - inductive) >= Math.Log(WaitingFactor))
            {
                bool byCable = Math.Abs(own - wired) < Math.Abs(own - inductive);
                var kind = byCable ? MethodKind.Wired : MethodKind.Inductive;
                return open with
                {
                    Kind = kind,
                    Remarks =
                    [
                        .. open.Remarks,
                        DraftRemark.Guess(
                            Prose.Of(
                                $"{PlainWords.Charged(kind)}, as it waits at {Math.Exp(own):0.###} W, nearer to the "
                            + $"{Math.Exp(byCable ? wired : inductive):0.###} W of the logs {PlainWords.Charged(kind)} than to the "
                            + $"{Math.Exp(byCable ? inductive : wired):0.###} W of the others.")),
                    ],
                };
            }
        }

        return open with
        {
            Remarks = [.. open.Remarks,
                DraftRemark.Question(
                    $"Nothing tells whether {open.Bundle.Deciding.Facts.File} is a waiting cable or a waiting pad. "
                + "Which is it?")],
        };
    }

    /// <summary>The word of a kind.</summary>
    internal static string Word(MethodKind kind) => kind == MethodKind.Wired ? "wired" : "inductive";
}
