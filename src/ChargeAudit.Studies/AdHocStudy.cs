using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Studies;

/// <summary>A study made from logs named on the command line, with everything else assumed, and each assumption stated.</summary>
public static class AdHocStudy
{
    // The meter that carries what is said about all logs.
    private const string ToldMeter = "meter";

    /// <summary>Makes a study of one cable and one pad.</summary>
    /// <param name="wired">Logs of charges by cable, one for each charge.</param>
    /// <param name="inductive">Logs of charges by pad, one for each charge.</param>
    /// <param name="point">Where the meter sat in all of them; null: at the adapter's output.</param>
    /// <param name="tariff">The price; null: none.</param>
    /// <param name="assumptions">What was assumed, as sentences.</param>
    /// <param name="told">What the user says about all logs; null for nothing.</param>
    /// <exception cref="InputException">There is not a log of each kind.</exception>
    public static Study Of(
        IReadOnlyList<string> wired, IReadOnlyList<string> inductive, MeasuringPoint? point, Tariff? tariff,
            out IReadOnlyList<string> assumptions,
        LogOptions? told = null)
    {
        if (wired.Count == 0 || inductive.Count == 0)
        {
            throw new InputException(InputProblem.Usage,
                "a comparison needs at least one log of a charge by cable and one of a charge on a pad")
            {
                Remedy = Remedy.LogsOfBothKinds,
            };
        }

        var where = point ?? MeasuringPoint.Usb;
        var said = new List<string>
        {
            "Each log was taken as one charge from the same start to the same end; how full the battery was is not stated.",
            "No meter accuracy was stated, so no figure has an interval; a study file can state it.",
        };
        if (wired.Count > 1 || inductive.Count > 1)
        {
            said.Add("All logs by cable were taken to be of one cable and all logs on a pad of one pad, and averaged; a study file can "
                + "keep different ones apart.");
        }


        if (point is null)
        {
            said.Insert(0, "Assumed at the adapter's output: the logs do not show where the meter sat. Give its point if it sat at the "
                + "wall.");
        }

        assumptions = said;
        return new Study
        {
            Title = "Cable and pad",
            Reference = "cable",
            Methods = [new Method("cable", MethodKind.Wired), new Method("pad", MethodKind.Inductive)],
            Meters = told is null ? new Dictionary<string, Meter>() : new Dictionary<string, Meter>
            {
                [ToldMeter] = new Meter { Name = ToldMeter, Options = told with { Point = where } },
            },
            Runs = [.. Runs("cable", wired, where, told), .. Runs("pad", inductive, where, told)],
            Tariff = tariff,
            Folder = "",
        };
    }

    private static IEnumerable<Run> Runs(string method, IReadOnlyList<string> files, MeasuringPoint point, LogOptions? told) =>
        files.Select((file, i) => new Run
        {
            Id = InvariantText.Of($"{method}-{i + 1}"),
            Method = method,
            Logs = new Dictionary<MeasuringPoint, LogReference> { [point] = new([file], told is null ? null : ToldMeter) },
        });
}
