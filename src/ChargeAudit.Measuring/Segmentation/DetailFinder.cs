namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Tells the parts of each charge, and the bursts around charges, from the stretches between change points.</summary>
internal static class DetailFinder
{
    /// <summary>Below this share of its own level a charge no longer runs at constant power. [1]</summary>
    private const double ConstantShare = 0.85;

    /// <summary>Power that comes back to this multiple tells an interruption from a fall. [1]</summary>
    private const double ReturnShare = 1.2;

    /// <summary>A stretch shorter than this share of its charge is where one part passes into the next, and no part of its own.
    /// [1]</summary>
    private const double BriefShare = 0.02;

    public static IReadOnlyList<ModeDetail> Find(
        IReadOnlyList<PowerSegment> segments, IReadOnlyList<SegmentRun> charges, IReadOnlyList<SegmentRun> bursts,
            IReadOnlyList<ModeSpan> modes, double pauseBelowW, IReadOnlyList<SegmentRun> holds)
    {
        var details = new List<ModeDetail>();
        foreach (var charge in charges)
        {
            double level = Enumerable.Range(charge.From, charge.To - charge.From).Max(i => segments[i].MeanW);
            int lastHigh = Enumerable.Range(charge.From, charge.To - charge.From).Last(i => segments[i].MeanW >= ConstantShare * level);
            for (int i = charge.From; i < charge.To; i++)
            {
                double mean = segments[i].MeanW;
                bool returns = Enumerable.Range(i + 1, charge.To - i - 1).Any(j => segments[j].MeanW > ReturnShare * mean);
                bool brief = segments[i].EndS - segments[i].StartS < BriefShare
                    * (segments[charge.To - 1].EndS - segments[charge.From].StartS);
                bool tapering = i > charge.From && details[^1].Kind == ModeDetailKind.Taper;
                int index = i;
                var kind = holds.Any(h => h.From <= index && index < h.To) ? ModeDetailKind.Hold
                    : mean >= ConstantShare * level || (brief && i == charge.From && returns) ? ModeDetailKind.ConstantPower
                    : mean < pauseBelowW && returns && i > charge.From ? ModeDetailKind.Pause
                    : i > lastHigh && (segments[i].DropW > 0 || tapering || (brief && !returns)) ? ModeDetailKind.Taper
                    : ModeDetailKind.Throttled;
                Add(details, kind, segments[i], i == charge.From);
            }
        }

        foreach (var burst in bursts)
        {
            var within = modes.LastOrDefault(m => m.StartS <= segments[burst.From].StartS);
            var kind = within?.Mode == Mode.Maintenance ? ModeDetailKind.TopUp : ModeDetailKind.Attempt;
            for (int i = burst.From; i < burst.To; i++)
            {
                Add(details, kind, segments[i], i == burst.From);
            }
        }

        return [.. details.OrderBy(d => d.StartS)];
    }

    private static void Add(List<ModeDetail> details, ModeDetailKind kind, in PowerSegment s, bool opens)
    {
        if (!opens && details[^1].Kind == kind)
        {
            var last = details[^1];
            double time = s.EndS - last.StartS;
            double before = last.EndS - last.StartS;
            details[^1] = last with { EndS = s.EndS, MeanPowerW = ((last.MeanPowerW * before) + (s.MeanW * (time - before))) / time };
        }
        else
        {
            details.Add(new ModeDetail(kind, s.StartS, s.EndS, s.MeanW));
        }
    }
}
