namespace ChargeAudit.Reports.Text;

/// <summary>
/// What can hurt someone who measures, in the same words everywhere: one line where work with mains or cells is asked for, the full list
/// one step away. <i>Source:</i> <see cref="Laboratory"/> after 10 CFR 430 subpart B appendix Y, 3.3.3(b) and 3.2.5(a), (d), read on
/// 2026-11-26; the rest is common practice, no source. The places where they appear are listed in docs/sources.md.
/// </summary>
public static class Cautions
{
    /// <summary>The one line.</summary>
    public const string Line =
        "Mains voltage can kill, lithium cells can burn, and a pad heats metal and can disturb implants: read the cautions before you "
            + "measure.";

    /// <summary>What holds where energy is measured at the device or the battery inside a product.</summary>
    public const string Laboratory =
        "Measuring at the device or the battery inside a product is laboratory work only: never open a sealed device, discharge a battery "
            + "only to the end-of-discharge voltage that its maker states, and discard a product whose safety features have suffered.";

    /// <summary>Where the full list is found in a report.</summary>
    public const string InReport = "They stand near the end of this report.";

    /// <summary>The full list.</summary>
    public static IReadOnlyList<string> All { get; } =
    [
        "Mains voltage can kill. Measure at the wall only with a closed plug-in meter that is approved for your country; never open an "
            + "adapter or a charger. Work on wiring belongs to licensed people, under the local code.",
        "A pad heats metal within seconds. Keep keys, coins, cards, foil and metal cases off it, and stop when the pad, a cable or the "
            + "device gets too hot to touch, smells or bulges.",
        "Lithium cells can burn. Do not charge a swollen, damaged or wet device, and do not cover it.",
        "Charge on a hard surface that cannot burn, with nothing near it that can, and with a working smoke alarm that somebody in the "
            + "building will hear. A test of 24 h and a charge overnight need all of this: nobody watches them throughout.",
        "On smoke, cut the power at the socket if that is safe. Do not touch the device; get away from it and call the fire service.",
        "Charging coils and magnets can disturb pacemakers, defibrillators, insulin pumps and other implants. Keep them at least as far "
            + "away as the maker of the implant states; where no distance is known, do not do the test.",
        Laboratory,
        "An open coil in resonance can carry a much higher voltage than its supply. Discharge its capacitors before you touch anything.",
    ];
}
