using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.RegularExpressions;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>Reads the accuracy clauses of data sheets. Every refusal names what was found and what was expected.</summary>
internal static partial class AccuracyText
{
    private const int LongestShown = 60;

    // A coverage factor beyond this cannot be meant.
    private const double GreatestCoverageFactor = 1000;

    internal static bool TryParse(
        string? text, LogQuantity quantity, [NotNullWhen(true)] out MeterAccuracy? accuracy, [NotNullWhen(false)] out string? error)
    {
        accuracy = null;
        string rest = (text ?? "").Replace("±", "", StringComparison.Ordinal).Replace('\u00a0', ' ')
            .Replace("+/-", "", StringComparison.Ordinal).Trim();
        if (rest.Length == 0)
        {
            error = "the accuracy is empty; expected the data sheet's words, such as '0.05 % + 2 mV'";
            return false;
        }

        if (DecimalComma().IsMatch(rest))
        {
            error = $"the accuracy '{Shown(text!)}' has a decimal comma; write it with a point, such as '0.05 %'";
            return false;
        }

        var shape = ErrorShape.Rectangular;
        double coverageFactor = 2;
        if (ShapeWords().Match(rest) is { Success: true } words)
        {
            rest = rest.Remove(words.Index, words.Length);
            string name = words.Groups["shape"].Value.ToUpperInvariant();
            shape = name switch
            {
                "NORMAL" => ErrorShape.Normal,
                "TRIANGULAR" => ErrorShape.Triangular,
                "ARCSINE" => ErrorShape.Arcsine,
                _ => ErrorShape.Rectangular,
            };
            if (shape == ErrorShape.Normal && !words.Groups["k"].Success)
            {
                error = $"the accuracy '{Shown(text!)}' says normal without its coverage factor; write 'normal k=2', or the factor of the "
                    + "certificate";
                return false;
            }

            coverageFactor = words.Groups["k"].Success ? Number(words.Groups["k"].Value) : 2;
            if (coverageFactor is <= 0 or > GreatestCoverageFactor)
            {
                error = $"the accuracy '{Shown(text!)}' has a coverage factor that cannot be; expected one such as 2";
                return false;
            }
        }

        double? resolution = null;
        if (ResolutionWords().Match(rest) is { Success: true } step)
        {
            rest = rest.Remove(step.Index, step.Length);
            resolution = MeterUnits.Factor(step.Groups["unit"].Value, quantity) * Number(step.Groups["number"].Value);
            if (!(resolution > 0 && NumberLimits.CanBeMeant(resolution.Value)))
            {
                error = $"the accuracy '{Shown(text!)}' has the resolution '{Shown(step.Value.Trim(' ', ',', ';'))}'; expected a step in "
                    + $"{MeterUnits.Named(quantity)}";
                return false;
            }
        }

        var clauses = new List<AccuracyClause>();
        string[] parts = ElseWord().Split(rest.Trim(' ', ',', ';'));
        for (int i = 0; i < parts.Length; i++)
        {
            if (!TryClause(parts[i], quantity, isLast: i == parts.Length - 1, text!, out var clause, out error))
            {
                return false;
            }

            if (clauses.Count > 0 && clause.Below is { } limit && limit <= clauses[^1].Below)
            {
                error = $"the accuracy '{Shown(text!)}' has limits that do not rise; give the clause of the smallest readings first";
                return false;
            }

            clauses.Add(clause);
        }

        accuracy = new MeterAccuracy
        {
            Text = text!.Trim(),
            Quantity = quantity,
            Clauses = clauses,
            Shape = shape,
            CoverageFactor = coverageFactor,
            Resolution = resolution,
        };
        error = null;
        return true;
    }

    private static bool TryClause(
        string part,
        LogQuantity quantity,
        bool isLast,
        string whole,
        [NotNullWhen(true)] out AccuracyClause? clause,
        [NotNullWhen(false)] out string? error)
    {
        clause = null;
        double? below = null;
        if (BelowWord().Match(part) is { Success: true } limit)
        {
            part = part.Remove(limit.Index, limit.Length);
            below = MeterUnits.Factor(limit.Groups["unit"].Value, quantity) * Number(limit.Groups["number"].Value);
            if (below is null)
            {
                error = $"the accuracy '{Shown(whole)}' has the limit '{Shown(limit.Value.Trim())}'; expected one in "
                    + $"{MeterUnits.Named(quantity)}";
                return false;
            }
        }

        if (below is null != isLast)
        {
            error = isLast
                ? $"the accuracy '{Shown(whole)}' says nothing of the readings from that limit up; add 'else' and their clause"
                : $"the accuracy '{Shown(whole)}' has 'else' without a limit before it; expected the form '2 % below 1 W else 1 %'";
            return false;
        }

        string symbol = MeterUnits.Symbol(quantity);
        double relative = 0, fixedPart = 0, digits = 0;
        foreach (string raw in part.Split('+'))
        {
            string term = raw.Trim(' ', ',', ';');
            if (Share().Match(term) is { Success: true } share)
            {
                double ratio = Number(share.Groups["number"].Value) * (share.Groups["sign"].Value == "%" ? 0.01 : 1e-6);
                if (share.Groups["range"].Success)
                {
                    if (MeterUnits.Factor(share.Groups["unit"].Value, quantity) is not { } factor)
                    {
                        error = $"the accuracy '{Shown(whole)}' has the range '{Shown(share.Groups["range"].Value)}'; expected one in "
                            + $"{MeterUnits.Named(quantity)}";
                        return false;
                    }

                    fixedPart += ratio * factor * Number(share.Groups["range"].Value);
                }
                else if (share.Groups["unnamed"].Success)
                {
                    error = $"the accuracy '{Shown(whole)}' is a share of the range without saying the range; "
                        + $"write it out, such as '0.5 % of 3 {symbol}'";
                    return false;
                }
                else
                {
                    relative += ratio;
                }
            }
            else if (DigitsWord().Match(term) is { Success: true } count)
            {
                digits += Number(count.Groups["number"].Value);
            }
            else if (Amount().Match(term) is { Success: true } amount
                && MeterUnits.Factor(amount.Groups["unit"].Value, quantity) is { } factor)
            {
                fixedPart += factor * Number(amount.Groups["number"].Value);
            }
            else
            {
                error = term.Length == 0
                    ? $"the accuracy '{Shown(whole)}' has an empty part; expected a share, an amount or digits, such as '0.05 % + 2 "
                        + $"m{symbol}'"
                    : $"the accuracy '{Shown(whole)}' has "
                        + (double.TryParse(term, CultureInfo.InvariantCulture, out _)
                            ? "a number without a unit"
                            : $"the part '{Shown(term)}'")
                        + "; expected a share ('0.05 %', '50 ppm', '0.5 % of 3 "
                        + $"{symbol}'), "
                        + $"digits ('3 digits') or an amount in {MeterUnits.Named(quantity)}";
                return false;
            }
        }

        if (!NumberLimits.CanBeMeant(relative + fixedPart + digits + (below ?? 0)))
        {
            error = $"the accuracy '{Shown(whole)}' holds a number that is too large to be meant; expected one such as '0.05 % + 2 "
                + $"m{symbol}'";
            return false;
        }

        if (relative > 1)
        {
            error = $"the accuracy '{Shown(whole)}' is more than the whole reading; expected a share of at most 100 %, such as '0.05 %'";
            return false;
        }

        clause = new AccuracyClause(below, relative, fixedPart, digits);
        error = null;
        return true;
    }

    private static double Number(string text) => NumberLimits.Meant(double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture));

    private static string Shown(string text)
    {
        string clean = string.Concat(text.Select(c => char.IsControl(c) ? '?' : c));
        return clean.Length <= LongestShown ? clean : clean[..LongestShown] + "…";
    }

    [GeneratedRegex(@"[0-9],[0-9]")]
    private static partial Regex DecimalComma();

    [GeneratedRegex(
        @"[\s,;(]*\b(?<shape>normal|rectangular|uniform|triangular|arcsine)\b(?:\s*,?\s*\(?\s*k\s*=\s*(?<k>[0-9]+(?:\.[0-9]+)?))?\)?",
            RegexOptions.IgnoreCase)]
    private static partial Regex ShapeWords();

    [GeneratedRegex(@"[\s,;(]*\bresolution\s+(?<number>[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(?<unit>[^\s0-9,;()]*)\)?",
        RegexOptions.IgnoreCase)]
    private static partial Regex ResolutionWords();

    [GeneratedRegex(@"[\s,;]+(?:else|otherwise)\b[\s,:]*", RegexOptions.IgnoreCase)]
    private static partial Regex ElseWord();

    [GeneratedRegex(@"\s*\b(?:below|under)\s+(?<number>[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(?<unit>[^\s0-9,;]*)",
        RegexOptions.IgnoreCase)]
    private static partial Regex BelowWord();

    // A share of the reading; of a range that is given; or of one that is not.
    [GeneratedRegex(
        @"^(?<number>[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(?<sign>%|ppm)"
        + @"(?:\s*(?:of\s+)?(?:the\s+)?(?:reading|rdg|value)"
        + @"|\s+of\s+(?:the\s+)?(?:range\s+(?:of\s+)?)?(?<range>[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(?<unit>[^\s0-9]+)(?:\s+range)?"
        + @"|\s*(?<unnamed>(?:of\s+)?(?:the\s+)?(?:range|full\s+scale|fs)))?$",
        RegexOptions.IgnoreCase)]
    private static partial Regex Share();

    [GeneratedRegex(@"^(?<number>[0-9]+(?:\.[0-9]+)?)\s*(?:digits?|dgts?|counts?)$", RegexOptions.IgnoreCase)]
    private static partial Regex DigitsWord();

    [GeneratedRegex(@"^(?<number>[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?)\s*(?<unit>[^\s0-9]*)$")]
    private static partial Regex Amount();
}
