using System.Text.RegularExpressions;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Columns;

/// <summary>A header cell taken apart into name and unit.</summary>
/// <param name="Name">Words without the unit.</param>
/// <param name="UnitText">What stands in the place of a unit; empty where nothing does.</param>
/// <param name="Unit">The unit, where it is known.</param>
/// <param name="Quantity">What the words, or else the unit, stand for.</param>
/// <param name="Rank">How well the words fit.</param>
/// <param name="Conflict">Whether words and unit say different things; the unit was believed.</param>
internal sealed partial record HeaderText(string Name, string UnitText, Unit? Unit, LogQuantity Quantity, int Rank, bool Conflict)
{
    /// <summary>Takes a header cell apart: <c>Voltage (V)</c>, <c>I [mA]</c>, <c>P_W</c>, <c>Energy/mWh</c>, <c>Power, W</c>,
    /// <c>current in mA</c>, <c>mAh</c>.</summary>
    /// <param name="cell">Header cell.</param>
    /// <param name="languages">Languages of the header, the likeliest first; null: whichever knows its words.</param>
    public static HeaderText Parse(string cell, IReadOnlyList<HeaderLanguage>? languages = null)
    {
        string text = PlainText.Narrow(cell).Trim().Trim('"').TrimStart('#', '%').Trim();
        foreach (Regex form in new[] { Bracketed(), Separated(), LastWord() })
        {
            Match match = form.Match(text);
            string name = (match.Groups["name"].Value + match.Groups["rest"].Value).Trim();
            string unit = match.Groups["unit"].Value.Trim();
            if (match.Success && (form == Bracketed() || UnitTable.TryFind(unit, out _) || IsDegrees(name, unit, languages)
                || IsTimeWord(unit, name)))
            {
                return Make(name, unit, languages);
            }
        }

        // The whole cell may be a unit, which then also says what it measures; one letter in the other case is a name.
        return (UnitTable.TryFind(text, out Unit alone)
                || (HeaderLexicon.TryFindUnit(text, out alone) && alone is { Kind: UnitKind.Time, Symbol: "min" }))
            && (text.Length > 1 || alone.Symbol == text) && alone.Symbol is not ("C" or "d")
            && !(alone.Kind == UnitKind.Ratio)
            ? Make(text, text, languages)
            : Make(text, "", languages);
    }

    /// <summary>What a unit measures, as a quantity of a log.</summary>
    public static LogQuantity QuantityOf(UnitKind kind) => kind switch
    {
        UnitKind.Voltage => LogQuantity.Voltage,
        UnitKind.Current => LogQuantity.Current,
        UnitKind.Power => LogQuantity.Power,
        UnitKind.ApparentPower => LogQuantity.ApparentPower,
        UnitKind.Energy => LogQuantity.Energy,
        UnitKind.Charge => LogQuantity.Charge,
        UnitKind.Time => LogQuantity.Time,
        UnitKind.Temperature => LogQuantity.Temperature,
        UnitKind.Frequency => LogQuantity.Frequency,
        _ => LogQuantity.Ignored,
    };

    /// <summary>The same header with the unit given in a row below it.</summary>
    /// <param name="unit">Text of that row.</param>
    /// <param name="languages">Languages of the header.</param>
    public HeaderText WithUnit(string unit, IReadOnlyList<HeaderLanguage>? languages = null) => UnitText.Length > 0 || unit.Length == 0
        ? this
        : Make(Name, unit, languages);

    private static HeaderText Make(string name, string unitText, IReadOnlyList<HeaderLanguage>? languages)
    {
        var (words, rank) = HeaderWords.Find(name, languages);
        unitText = IsDegrees(name, unitText, languages) ? $"°{unitText}" : unitText;
        Unit? unit = HeaderLexicon.TryFindUnit(unitText, out Unit found) ? found : null;
        if (unit is null)
        {
            return new HeaderText(name, unitText, null, words, rank, false);
        }

        LogQuantity measured = QuantityOf(unit.Value.Kind);
        if (unit.Value.Kind == UnitKind.Ratio)
        {
            return new HeaderText(name, unitText, unit, words == LogQuantity.PowerFactor ? words : LogQuantity.Ignored, rank, false);
        }

        // Everyday names cover several quantities ("consumption (W)", "capacity (Wh)"): there the unit is not a contradiction.
        bool conflict = words != LogQuantity.Ignored && words != measured && measured != LogQuantity.Ignored && !IsLoose(words, measured);
        int unitRank = words == measured ? rank : rank - 6;
        return new HeaderText(name, unitText, unit, measured, unitRank, conflict);
    }

    // "Zeit in Minuten". An hour is the clock in half of the languages, and the unit only behind a preposition.
    private static bool IsTimeWord(string word, string name) =>
        HeaderLexicon.TryFindUnit(word, out Unit unit) && unit.Kind == UnitKind.Time
        && (unit.Symbol is "s" or "min" || (unit.Symbol == "h" && Preposition().IsMatch(name)));

    // Beside a temperature, C is not a coulomb.
    private static bool IsDegrees(string name, string unitText, IReadOnlyList<HeaderLanguage>? languages) =>
        unitText is "C" or "F" && HeaderWords.Find(name, languages).Quantity == LogQuantity.Temperature;

    private static bool IsLoose(LogQuantity words, LogQuantity measured) =>
        (words, measured) is (LogQuantity.Energy or LogQuantity.Charge or LogQuantity.Power, LogQuantity.Energy or LogQuantity.Charge
            or LogQuantity.Power or LogQuantity.ApparentPower)
        || words is LogQuantity.Date || measured is LogQuantity.Time;

    [GeneratedRegex(@"^(?<name>[^\[(]*)[\[(]\s*(?<unit>[^\])]*)\s*[\])](?<rest>.*)$")]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"^(?<name>.*[^\s_/,])\s*(?:_|/|,|\s+in\s+|:)\s*(?<unit>[^\s_/,:]+)$")]
    private static partial Regex Separated();

    [GeneratedRegex(@"\b(?:in|en|em|w|v|i)$", RegexOptions.IgnoreCase)]
    private static partial Regex Preposition();

    [GeneratedRegex(@"^(?<name>.*\S)\s+(?<unit>\S+)$")]
    private static partial Regex LastWord();
}
