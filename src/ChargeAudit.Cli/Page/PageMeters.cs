using ChargeAudit.Cli.Options;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Page;

/// <summary>What a user says about meters and batteries on the page, put into the study. Pure.</summary>
internal static class PageMeters
{
    /// <summary>The study with the accuracies and the states of charge that were stated.</summary>
    /// <exception cref="InputException">An accuracy or a state of charge cannot be understood.</exception>
    public static Study With(Study study, SaidOnPage said)
    {
        double? start = Percent(said.StartPercent, "start"), end = Percent(said.EndPercent, "end");
        return study with
        {
            Meters = study.Meters.ToDictionary(m => m.Key, m => AccuracyAt(said, m.Value.Options.Point) is { Count: > 0 } accuracy
                ? m.Value with { Accuracy = accuracy }
                : m.Value),
            Runs = [.. study.Runs.Select(r => r with
            {
                StartChargePercent = r.StartChargePercent ?? start,
                EndChargePercent = r.EndChargePercent ?? end,
            })],
        };
    }

    /// <summary>How a log is to be read, where the user said it.</summary>
    /// <exception cref="InputException">A column is not known.</exception>
    public static LogOptions? Reading(SaidReading said, LogOptions? told)
    {
        string columns = said.Columns?.Trim() ?? "";
        if (columns.Length == 0 && string.IsNullOrEmpty(said.DateOrder))
        {
            return told;
        }

        try
        {
            var options = told ?? new LogOptions();
            return options with
            {
                Columns = columns.Length > 0 ? LogOptionsBinder.ReadColumns(columns) : options.Columns,
                DateOrder = StudyWords.DateOrder(said.DateOrder ?? "") ?? options.DateOrder,
            };
        }
        catch (InputException e)
        {
            string sentence = e.Message.Replace("--columns names", "the list of columns names", StringComparison.Ordinal);
            throw new InputException(InputProblem.Unusable, sentence, e);
        }
    }

    private static Dictionary<LogQuantity, MeterAccuracy> AccuracyAt(SaidOnPage said, MeasuringPoint? point)
    {
        var accuracy = new Dictionary<LogQuantity, MeterAccuracy>();
        string text = point is { } at ? said.Accuracy?.GetValueOrDefault(StudyWords.Of(at)) ?? "" : "";
        foreach (string part in text.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            int equals = part.IndexOf('=', StringComparison.Ordinal);
            var quantity = equals < 0 ? LogQuantity.Power : StudyWords.Quantity(part[..equals].Trim());
            if (quantity is not { } known)
            {
                throw new InputException(
                    InputProblem.Unusable,
                    $"the accuracy \"{part}\" begins with no quantity that is known; such as voltage = 0.05 % + 2 mV was expected");
            }

            accuracy[known] = MeterAccuracy.TryParse(part[(equals + 1)..].Trim(), known, out var read, out string? fault)
                ? read
                : throw new InputException(InputProblem.Unusable, $"the accuracy \"{part}\" cannot be understood: {fault}");
        }

        return accuracy;
    }

    private static double? Percent(double? percent, string when) => percent is < 0 or > 100
        ? throw new InputException(InputProblem.Unusable, $"the battery's charge at the {when} is no percentage from 0 to 100")
        : percent;
}
