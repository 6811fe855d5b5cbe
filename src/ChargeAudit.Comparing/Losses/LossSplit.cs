using System.Text.Json.Serialization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Losses;

/// <summary>What is known about one charge for its losses.</summary>
public sealed record LossInput
{
    /// <summary>By cable or on a pad.</summary>
    public required MethodKind Kind { get; init; }

    /// <summary>Energy over the charge at each point measured. [Wh]</summary>
    public required IReadOnlyDictionary<MeasuringPoint, Measured> EnergyWh { get; init; }

    /// <summary>Resistance of the cable, there and back; null where it was not stated. [Ω]</summary>
    public double? CableOhm { get; init; }

    /// <summary>Integral of the current squared through the cable over the charge; null where no current was logged. [A²·s]</summary>
    public double? CurrentSquaredA2S { get; init; }

    /// <summary>Energy that the battery stored, such as its measured discharge energy; null where it was not stated. [Wh]</summary>
    public Measured? StoredWh { get; init; }
}

/// <summary>One part of the way from the wall to the battery.</summary>
public enum LossPlace
{
    /// <summary>Mains adapter.</summary>
    [JsonStringEnumMemberName("adapter")] Adapter,

    /// <summary>Cable.</summary>
    [JsonStringEnumMemberName("cable")] Cable,

    /// <summary>Pad and receiver, coils included.</summary>
    [JsonStringEnumMemberName("pad-and-receiver")] PadAndReceiver,

    /// <summary>Electronics of the device: charging circuit and its own load.</summary>
    [JsonStringEnumMemberName("device-electronics")] DeviceElectronics,

    /// <summary>Storing in the battery.</summary>
    [JsonStringEnumMemberName("battery")] Battery,
}

/// <summary>A loss, or why it is not separated. Several places that one difference covers stand together.</summary>
/// <param name="Places">What the figure covers, in the order of the flow.</param>
/// <param name="From">Point at which energy goes in.</param>
/// <param name="To">Point at which it comes out; null: what the battery stored.</param>
/// <param name="EnergyWh">The loss. [Wh]</param>
public sealed record LossPart(IReadOnlyList<LossPlace> Places, MeasuringPoint From, MeasuringPoint? To, Figure EnergyWh);

/// <summary>Splits the loss of a charge by what was measured. What was not is named, never invented.</summary>
public static class LossSplit
{
    /// <summary>The parts, in the order of the flow; none where fewer than two figures are known.</summary>
    /// <param name="input">What is known.</param>
    public static IReadOnlyList<LossPart> Of(LossInput input)
    {
        var known = Enum.GetValues<MeasuringPoint>().Where(input.EnergyWh.ContainsKey).ToList();
        var parts = new List<LossPart>();
        for (int i = 0; i + 1 < known.Count; i++)
        {
            parts.AddRange(Between(input, known[i], known[i + 1], input.EnergyWh[known[i]] - input.EnergyWh[known[i + 1]]));
        }

        if (input.StoredWh is { } stored && known.Count > 0)
        {
            parts.AddRange(Between(input, known[^1], null, input.EnergyWh[known[^1]] - stored));
        }

        return parts;
    }

    /// <summary>Least and greatest loss in the cable, from its resistance. [Wh]</summary>
    /// <param name="input">What is known.</param>
    public static Figure CableWh(LossInput input)
    {
        if (input.CableOhm is not { } ohm)
        {
            return Figure.None("not separated: the cable's resistance is not given");
        }

        return input.CurrentSquaredA2S is { } squared
            ? Figure.Of(Measured.Unknown(ohm * squared / 3600, "Wh", "the uncertainty of the cable's resistance is not given"),
                "the cable's resistance as given")
            : Figure.None("not separated: no current was logged at the cable");
    }

    private static IEnumerable<LossPart> Between(LossInput input, MeasuringPoint from, MeasuringPoint? to, Measured loss)
    {
        var places = Places(input.Kind, from, to);
        if (places.Count > 1 && places.Contains(LossPlace.Cable) && CableWh(input).Value is { } cable)
        {
            // A stated resistance separates the cable's loss from the losses that were measured together with it.
            var rest = places.Where(p => p != LossPlace.Cable).ToList();
            yield return new LossPart([LossPlace.Cable], from, to, Figure.Of(cable, "the cable's resistance as given"));
            yield return new LossPart(rest, from, to, Figure.Of(loss - cable, "the cable's resistance as given"));
            yield break;
        }

        yield return new LossPart(places, from, to, Figure.Of(loss));
    }

    /// <summary>The places that lie between two points.</summary>
    private static List<LossPlace> Places(MethodKind kind, MeasuringPoint from, MeasuringPoint? to)
    {
        var places = new List<LossPlace>();
        if (from <= MeasuringPoint.Wall && Reaches(to, MeasuringPoint.Usb))
        {
            places.Add(LossPlace.Adapter);
        }

        if (from <= MeasuringPoint.Usb && Reaches(to, MeasuringPoint.Device))
        {
            places.Add(LossPlace.Cable);
            if (kind == MethodKind.Inductive)
            {
                places.Add(LossPlace.PadAndReceiver);
            }
        }

        if (from <= MeasuringPoint.Device && Reaches(to, MeasuringPoint.Battery))
        {
            places.Add(LossPlace.DeviceElectronics);
        }

        if (to is null)
        {
            places.Add(LossPlace.Battery);
        }

        return places;
    }

    private static bool Reaches(MeasuringPoint? to, MeasuringPoint point) => to is null || to >= point;

    /// <summary>A part's name for people.</summary>
    /// <param name="part">The part.</param>
    public static string Name(LossPart part)
    {
        string[] names = [.. part.Places.Select(p => p switch
        {
            LossPlace.Adapter => "adapter",
            LossPlace.Cable => "cable",
            LossPlace.PadAndReceiver => "pad and receiver",
            LossPlace.DeviceElectronics => "device electronics",
            _ => "battery",
        })];
        string name = names.Length == 2 ? $"{names[0]} and {names[1]}" : string.Join(", ", names);
        return part.Places.Count > 1 ? InvariantText.Of($"{name} (not separated)") : name;
    }
}
