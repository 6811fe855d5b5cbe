namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What can hurt someone who repeats the measurement.</summary>
internal static class CautionSection
{
    /// <summary>The section.</summary>
    public static Section Of() => new("cautions", "Cautions",
    [
        new Bullets(
        [
            "Mains voltage can kill. Measure at the wall only with a closed, approved plug-in meter; never open an adapter or charger. Work on wiring belongs to licensed people, under local codes.",
            "A pad heats metal. Keep keys, coins, cards, foil and metal cases off it, and stop when the pad or the device becomes too hot to touch.",
            "Lithium cells can burn. Do not charge a swollen, damaged or wet device, do not cover it, and do not leave a test alone with anything that burns.",
            "Charging coils and magnets can disturb pacemakers, defibrillators and pumps. Keep them at the distance that the maker of the implant gives.",
        ]),
    ]);
}
