using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking.Planning;

/// <summary>What a meter leaves in a ratio of two energies, however often they are measured.</summary>
/// <param name="SameMeter">One and the same meter on both sides: standard uncertainty of the ratio, as a share. [1]</param>
/// <param name="TwoMeters">Two meters of this kind: likewise. [1]</param>
internal sealed record MeterPlan(double SameMeter, double TwoMeters)
{
    /// <summary>No meter is known, and none is assumed.</summary>
    public static MeterPlan None { get; } = new(0, 0);

    /// <summary>From a data sheet. With one meter the gain cancels, and the fixed part does so but for the difference of the two energies;
    /// a coarse step, which each reading is cut down to, does not.</summary>
    /// <param name="accuracy">Accuracy of power; null: taken as exact.</param>
    /// <param name="stepW">Step of its power readings; zero where fine. [W]</param>
    /// <param name="chargePowerW">Mean power over a charge, above zero. [W]</param>
    /// <param name="differenceShare">Expected difference of the two energies, as a share. [1]</param>
    public static MeterPlan Of(MeterAccuracy? accuracy, double stepW, double chargePowerW, double differenceShare)
    {
        double gain = 0, fixedPart = 0, step = Math.Sqrt(2) * stepW / Math.Sqrt(3) / chargePowerW;
        if (accuracy is not null)
        {
            var clause = accuracy.ClauseAt(chargePowerW);
            double fixedW = clause.FixedPart(accuracy.Resolution ?? stepW) ?? 0;
            gain = clause.RelativeHalfWidth * accuracy.StandardPerHalfWidth;
            fixedPart = fixedW * accuracy.StandardPerHalfWidth / chargePowerW;

            // A data sheet whose fixed part is at least a step includes the step already.
            step = fixedW >= stepW ? 0 : step;
        }

        return new MeterPlan(
            Math.Sqrt(Square(fixedPart * differenceShare) + Square(step)),
            Math.Sqrt((2 * (Square(gain) + Square(fixedPart))) + Square(step)));
    }

    private static double Square(double x) => x * x;
}
