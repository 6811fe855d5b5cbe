using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;

namespace ChargeAudit.Tests.Simulation;

/// <summary>A simulated study as files in a folder.</summary>
internal static class WrittenStudy
{
    public static void To(SimulatedStudy study, string folder)
    {
        Directory.CreateDirectory(folder);
        foreach (var (name, text) in StudyWriter.Files(study))
        {
            File.WriteAllText(Path.Combine(folder, name), text);
        }
    }
}
