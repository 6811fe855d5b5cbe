namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A cable.</summary>
/// <param name="Name">Name in the scenario.</param>
/// <param name="Ohm">Resistance there and back, contacts included. [Ω]</param>
public sealed record CableModel(string Name, double Ohm);
