using ChargeAudit.Comparing.Procedures;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// 10 CFR 429.39(a)(2)(ii): represented value of a battery charger, the higher of the sample mean and the upper 97.5 % one-tailed
/// confidence limit divided by 1.05. The sample is our own; t(0.975; 2) = 4.302653 stands in every table of Student's t.
/// </summary>
public class Cfr42939Checks
{
    [Fact]
    public void Represented_value_of_three_units()
    {
        var value = RepresentedValue.Of([2.10, 2.30, 2.20]);
        Assert.Equal(2.200, value.Mean, 1e-12);
        Assert.Equal(0.100, value.StandardDeviation, 1e-12);
        // Tolerances: half a unit of the last digit noted.
        Assert.Equal(4.302653, value.StudentT, 5e-7);
        Assert.Equal(2.448414, value.UpperLimit, 5e-7);
        Assert.Equal(2.331823, value.Represented!.Value, 5e-7);
    }

    [Fact]
    public void Units_that_hardly_differ_are_represented_by_their_mean()
    {
        var value = RepresentedValue.Of([2.200, 2.201, 2.199, 2.200]);
        Assert.Equal(2.200, value.Represented!.Value, 1e-12);
    }
}
