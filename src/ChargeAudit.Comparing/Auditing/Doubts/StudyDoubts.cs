using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing.Doubts;

/// <summary>What speaks against the way in which a study puts its logs together: logs of different charges, methods that changed places, a
/// charge that counts twice, a price that cannot be meant.</summary>
internal static class StudyDoubts
{
    /// <summary>The doubts, as sentences; empty where nothing speaks against the study.</summary>
    /// <param name="tariff">The price of energy; null: none.</param>
    /// <param name="methods">The methods with their runs.</param>
    /// <param name="comparisons">The methods side by side.</param>
    /// <param name="standby">Logs of waiting chargers, each with the method it stands for.</param>
    public static IReadOnlyList<string> Of(
        Tariff? tariff, IReadOnlyList<MethodResult> methods, IReadOnlyList<ComparisonResult> comparisons,
            IReadOnlyList<(string Method, LogMeasurement Log)> standby) =>
    [
        .. DifferentCharges.Of(methods),
        .. ChangedPlaces.Of(methods, comparisons),
        .. CountedTwice.Of(methods, standby),
        .. UnlikelyPrice.Of(tariff),
    ];

    /// <summary>Refuses a study of which anything is doubted.</summary>
    /// <exception cref="InputException">There is a doubt.</exception>
    public static void Refuse(IReadOnlyList<string> doubts)
    {
        if (doubts.Count > 0)
        {
            throw new InputException(InputProblem.Unusable, $"{doubts[0].TrimEnd('.')}; correct the study, or go on with the doubt shown")
            {
                Remedy = Remedy.Strict,
            };
        }
    }
}
