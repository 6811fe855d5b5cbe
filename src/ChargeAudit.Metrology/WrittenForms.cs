namespace ChargeAudit.Metrology;

/// <summary>
/// The table of decimal marks, group marks and dates. The program carries no cultures of a system, so that its texts are the same on every
/// machine. <i>Source:</i> common practice in each country; no standard lists it.
/// </summary>
internal static class WrittenForms
{
    private const string Gap = "\u00a0";
    private const string NarrowGap = "\u202f";
    private const string Apostrophe = "\u2019";

    public static IReadOnlyList<WrittenForm> Table { get; } =
    [
        new("bg", ",", Gap, "dd.MM.yyyy"),
        new("cs", ",", Gap, "dd.MM.yyyy"),
        new("da", ",", ".", "dd.MM.yyyy"),
        new("de", ",", ".", "dd.MM.yyyy"),
        new("de-AT", ",", Gap, "dd.MM.yyyy"),
        new("de-CH", ".", Apostrophe, "dd.MM.yyyy"),
        new("de-LI", ".", Apostrophe, "dd.MM.yyyy"),
        new("el", ",", ".", "dd/MM/yyyy"),
        new("en", ".", ",", "yyyy-MM-dd"),
        new("en-AU", ".", ",", "dd/MM/yyyy"),
        new("en-CA", ".", ",", "yyyy-MM-dd"),
        new("en-GB", ".", ",", "dd/MM/yyyy"),
        new("en-IE", ".", ",", "dd/MM/yyyy"),
        new("en-NZ", ".", ",", "dd/MM/yyyy"),
        new("en-US", ".", ",", "MM/dd/yyyy"),
        new("es", ",", ".", "dd/MM/yyyy"),
        new("es-MX", ".", ",", "dd/MM/yyyy"),
        new("et", ",", Gap, "dd.MM.yyyy"),
        new("fi", ",", Gap, "d.M.yyyy"),
        new("fr", ",", NarrowGap, "dd/MM/yyyy"),
        new("fr-CA", ",", Gap, "yyyy-MM-dd"),
        new("fr-CH", ",", NarrowGap, "dd.MM.yyyy"),
        new("hr", ",", ".", "dd.MM.yyyy."),
        new("hu", ",", Gap, "yyyy.MM.dd."),
        new("it", ",", ".", "dd/MM/yyyy"),
        new("it-CH", ".", Apostrophe, "dd.MM.yyyy"),
        new("ja", ".", ",", "yyyy/MM/dd"),
        new("ko", ".", ",", "yyyy.MM.dd."),
        new("lt", ",", Gap, "yyyy-MM-dd"),
        new("lv", ",", Gap, "dd.MM.yyyy"),
        new("nb", ",", Gap, "dd.MM.yyyy"),
        new("nl", ",", ".", "dd-MM-yyyy"),
        new("nl-BE", ",", ".", "dd/MM/yyyy"),
        new("nn", ",", Gap, "dd.MM.yyyy"),
        new("no", ",", Gap, "dd.MM.yyyy"),
        new("pl", ",", Gap, "dd.MM.yyyy"),
        new("pt", ",", ".", "dd/MM/yyyy"),
        new("pt-PT", ",", Gap, "dd/MM/yyyy"),
        new("ro", ",", ".", "dd.MM.yyyy"),
        new("ru", ",", Gap, "dd.MM.yyyy"),
        new("sk", ",", Gap, "dd.MM.yyyy"),
        new("sl", ",", ".", "dd.MM.yyyy"),
        new("sv", ",", Gap, "yyyy-MM-dd"),
        new("tr", ",", ".", "dd.MM.yyyy"),
        new("uk", ",", Gap, "dd.MM.yyyy"),
        new("zh", ".", ",", "yyyy/MM/dd"),
    ];
}
