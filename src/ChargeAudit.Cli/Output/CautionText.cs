using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>The line of caution on a terminal, where what is printed asks for work with mains or cells.</summary>
internal static class CautionText
{
    /// <summary>Where the full list is found.</summary>
    public const string Elsewhere = "They stand in chargeaudit --help.";

    /// <summary>Below an audit: the published procedures and limits ask for tests, and some points lie inside a product.</summary>
    public static void Write(TerminalText text, AuditResult result, Detail detail)
    {
        bool inside = result.Methods.Any(m => m.Points.Keys.Any(IsInside));
        bool asked = result.Procedure is not null;
        if (detail != Detail.Full && !asked && !inside)
        {
            return;
        }

        text.Heading("Cautions");
        string[] inAProduct = asked || inside ? [Cautions.Laboratory] : [];
        text.Bullets([$"{Cautions.Line} {Elsewhere}", .. inAProduct]);
    }

    /// <summary>Below one log, where its meter may have sat inside a product.</summary>
    public static void Write(TerminalText text, MeasuringPoint? point)
    {
        if (point is { } at && IsInside(at))
        {
            text.Line("");
            text.Line($"{Cautions.Laboratory} {Cautions.Line} {Elsewhere}");
        }
    }

    private static bool IsInside(MeasuringPoint point) => point is MeasuringPoint.Device or MeasuringPoint.Battery;
}
