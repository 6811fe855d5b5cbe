using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Coverage;

/// <summary>Audits the files of a made study through the library's public way, and turns the answer into plain numbers.</summary>
public static class AuditOfMadeStudy
{
    /// <summary>Writes the study to a folder, which must be empty or hold an older one, and audits it.</summary>
    public static FoundStudy Of(MadeStudy made, string folder)
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }

        string file = made.WriteTo(folder);
        try
        {
            AuditResult audit = Auditor.Run(StudyReader.Load(file), new AuditOptions
            {
                ProgramVersion = "",
                CommandLine = "",
                StudyFile = file,
                Clock = TimeProvider.System,
            });
            return new FoundStudy([.. Figures(audit)], null)
            {
                Charges = [.. audit.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values)
                    .Select(p => (Path.GetFileName(p.Log.Files[0]), p.Charge.StartS, p.Charge.EndS))],
                Logs = [.. audit.Logs.Select(l =>
                    (Path.GetFileName(l.Files[0]), string.Join(", ", l.Modes.Select(Words))
                    + string.Concat(l.Doubts.Select(d => "\n      doubt: " + d.Text))))],
            };
        }
        catch (InputException refused)
        {
            return new FoundStudy([], refused.Message.Replace(folder, "", StringComparison.Ordinal));
        }
        catch (Exception broken)
            when (broken is ArithmeticException or InvalidOperationException or ArgumentException or IndexOutOfRangeException
            or KeyNotFoundException or NullReferenceException)
        {
            return new FoundStudy([], "BROKEN: " + broken.Message + broken.StackTrace?.Split('\n')[0]);
        }
    }

    private static string Words(ModeResult mode) => InvariantText.Of(
        $"{mode.Span.Mode} {mode.Span.StartS:F1} to {mode.Span.EndS:F1} s {mode.Energy.Value:F4} Wh {mode.MeanPower.Value:F4} W");

    private static IEnumerable<FoundFigure> Figures(AuditResult audit)
    {
        foreach (MethodResult method in audit.Methods)
        {
            foreach (
                (MeasuringPoint point, PointResult result) in method.Points.Where(p => p.Key is MeasuringPoint.Wall or MeasuringPoint.Usb))
            {
                Place place = point == MeasuringPoint.Wall ? Place.Wall : Place.Usb;
                yield return Of(FigureKind.Energy, method.Name, place, result.EnergyPerCharge);
                yield return Of(FigureKind.NoLoad, method.Name, place, result.NoLoadPower);
                yield return Of(FigureKind.Maintenance, method.Name, place, result.MaintenancePower);
            }

            yield return Of(FigureKind.YearEnergy, method.Name, Place.Wall, method.Yearly.Energy);
            yield return Of(FigureKind.YearCost, method.Name, Place.Wall, method.Yearly.Cost);
        }

        foreach (ComparisonResult comparison in audit.Comparisons.Where(c => c.Point is MeasuringPoint.Wall or MeasuringPoint.Usb))
        {
            yield return Of(FigureKind.Ratio, comparison.Method, comparison.Point == MeasuringPoint.Wall
                ? Place.Wall
                : Place.Usb, comparison.OverheadRatio);
        }
    }

    private static FoundFigure Of(FigureKind kind, string method, Place place, Figure figure)
    {
        var interval = figure.Value?.Interval();
        return new FoundFigure(kind, method, place, figure.Value?.Value, interval?.Low, interval?.High, figure.WhyNot
            ?? figure.Value?.UnknownBecause);
    }
}
