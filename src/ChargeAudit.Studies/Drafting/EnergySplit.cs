using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Tells open charges apart by energy: for the same charge a pad uses more. Says nothing where the energies do not fall into two
/// clear groups.</summary>
internal static class EnergySplit
{
    /// <summary>Groups whose energies differ by less than this are not told apart by them. [1]</summary>
    private const double LeastFactor = 1.1;

    /// <summary>The step between two groups is at least this many times the scatter within each. [1]</summary>
    private const double ClearGap = 2;

    /// <summary>What lies nearer than this to the middle between the two kinds, as a share of their distance, belongs to neither.
    /// [1]</summary>
    private const double NoMansLand = 0.25;

    /// <summary>Decides for all charges that are still open: at the point where most were measured first, then at the others.</summary>
    public static List<KindOfBundle> Into(List<KindOfBundle> all)
    {
        foreach (var point in Enum.GetValues<MeasuringPoint>().OrderByDescending(p => all.Count(c => c.ChargeAt(p) is not null)))
        {
            all = Into(all, point);
        }

        return [.. all.Select(c => c.Kind is null && c.Charge is not null && c.Remarks.Count == 0 ? Left(c) : c)];
    }

    private static KindOfBundle Left(KindOfBundle charge) => charge with
    {
        Remarks = [
            DraftRemark.Question(
                $"Nothing tells whether {charge.Bundle.Deciding.Facts.File} was charged by cable or on a pad. Which was it?")],
    };

    private static List<KindOfBundle> Into(List<KindOfBundle> all, MeasuringPoint point)
    {
        var open = all.Where(c => c is { Kind: null, Charge: not null } && c.Remarks.Count == 0 && c.ChargeAt(point) is not null).ToList();
        if (open.Count == 0)
        {
            return all;
        }

        var known = all.Where(c => c.Kind is not null && c.ChargeAt(point) is not null).ToLookup(c => c.Kind!.Value, c => LogWh(c, point));
        double? border = known.Count == 2
            ? Between(known[MethodKind.Wired].Max(), known[MethodKind.Inductive].Min())
            : Between([.. open.Select(c => LogWh(c, point)), .. known.SelectMany(k => k)]);
        return [.. all.Select(c => open.Contains(c) ? Decided(c) : c)];

        KindOfBundle Decided(KindOfBundle charge)
        {
            // A border that a named charge contradicts is none.
            bool usable = border is { } at && known[MethodKind.Wired].All(k => k < at) && known[MethodKind.Inductive].All(k => k > at)
                && Math.Abs(LogWh(charge, point) - at) >= NoMansLand
                    * (known.Count == 2 ? known[MethodKind.Inductive].Min() - known[MethodKind.Wired].Max() : 0);
            if (!usable)
            {
                return charge;
            }

            var kind = LogWh(charge, point) < border ? MethodKind.Wired : MethodKind.Inductive;
            var others = all.Where(c => c.ChargeAt(point) is not null && (LogWh(c, point) < border) != (kind == MethodKind.Wired)).ToList();
            return charge with
            {
                Kind = kind,
                Remarks = [DraftRemark.Guess(Because(charge, kind, others, point)), .. Doubt(charge, kind, others, point)],
            };
        }
    }

    private static string Because(KindOfBundle charge, MethodKind kind, List<KindOfBundle> others, MeasuringPoint point) =>
        Prose.Of(
            $"{PlainWords.Charged(kind)}: no name says which, but it uses {charge.ChargeAt(point)!.EnergyWh:0.00} Wh "
        + $"{PlainWords.At(point)} and other charges {others.Average(c => c.ChargeAt(point)!.EnergyWh):0.00} Wh; "
        + $"for the same charge a pad uses more.");

    // The pad's own draw goes on while the battery fills up, so its power falls less far.
    private static IEnumerable<DraftRemark> Doubt(KindOfBundle charge, MethodKind kind, List<KindOfBundle> others, MeasuringPoint point)
    {
        double own = charge.ChargeAt(point)!.EndShare, their = others.Average(c => c.ChargeAt(point)!.EndShare);
        bool agrees = own < their == (kind == MethodKind.Wired);
        string name = charge.Bundle.Deciding.Facts.File;
        string taper =
            Prose.Of(
                $"its power falls to {100 * own:0} % of its greatest at the end of the charge, and that of the others to "
            + $"{100 * their:0} %");
        yield return DraftRemark.Question(agrees
            ? $"Was {name} charged {(kind == MethodKind.Wired ? "by cable" : "on a pad")}, from the same state to the same state as the "
                + $"others? Its taper fits: {taper}."
            : $"Was {name} charged {(kind == MethodKind.Wired ? "by cable" : "on a pad")}, from the same state to the same state as the "
                + $"others? Its taper does not fit: {taper}.");
    }

    private static double LogWh(KindOfBundle charge, MeasuringPoint point) =>
        Math.Log(Math.Max(double.Epsilon, charge.ChargeAt(point)!.EnergyWh));

    private static double? Between(double wired, double inductive) => inductive - wired >= Math.Log(LeastFactor)
        ? 0.5 * (wired + inductive)
        : null;

    // Middle of the widest step between neighbours, if it is wide and both sides keep together.
    private static double? Between(List<double> logs)
    {
        logs.Sort();
        int at = -1;
        for (int i = 1; i < logs.Count; i++)
        {
            at = at < 0 || logs[i] - logs[i - 1] > logs[at] - logs[at - 1] ? i : at;
        }

        if (at < 0)
        {
            return null;
        }

        double gap = logs[at] - logs[at - 1];
        double within = Math.Max(logs[at - 1] - logs[0], logs[^1] - logs[at]);
        return gap >= Math.Log(LeastFactor) && gap >= ClearGap * within ? 0.5 * (logs[at] + logs[at - 1]) : null;
    }
}
