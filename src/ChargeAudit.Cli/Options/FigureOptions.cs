using System.CommandLine;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Folders;

namespace ChargeAudit.Cli.Options;

/// <summary>Single charts of a report, each as a file of its own, as wide, fine and dark as an article wants it.</summary>
internal sealed class FigureOptions
{
    private static readonly string[] Themes = ["light", "dark"];

    private readonly Option<string[]> _figure = new("--figure")
    {
        Description = "also draw one chart into a file of its own, PNG or SVG by its ending: NAME=FILE, such as power-wall=power.svg; "
            + "the names are those of the files in the report's folder charts",
        HelpName = "NAME=FILE",
    };

    private readonly Option<double?> _width =
        CommonOptions.Number("--figure-width", "width of these charts in pixels (default 860)", "PIXELS");
    private readonly Option<double?> _scale =
        CommonOptions.Number("--figure-scale", "picture points for each pixel of a PNG, such as 2 for print (default 1)", "NUMBER");

    private readonly Option<string> _theme = CommonOptions.Word("--figure-theme", "whether these charts lie on light or dark", Themes);

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[_figure, _width, _scale, _theme])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>Refuses what cannot be drawn, before any work is done.</summary>
    /// <exception cref="InputException">A name, a file's ending, a width or a scale cannot be used.</exception>
    public void Check(ParseResult parse)
    {
        Look(parse);
        foreach (var (name, file) in Asked(parse))
        {
            try
            {
                ChartFile.Check(file);
            }
            catch (InputException e)
            {
                // The chart of another command has an option of its own.
                throw new InputException(e.Problem, $"--figure is \"{name}={file}\", and {e.Message}", e);
            }
        }

        if (!Asked(parse).Any()
            && Array.Find((Option[])[_width, _scale, _theme], o => parse.GetResult(o) is { Implicit: false }) is { } said)
        {
            throw new InputException(InputProblem.Usage, $"{said.Name} goes with --figure; add --figure NAME=FILE");
        }
    }

    /// <summary>Draws them.</summary>
    /// <returns>Paths of the files.</returns>
    /// <exception cref="InputException">There is no such chart, or a file cannot be written.</exception>
    public IReadOnlyList<string> Draw(ParseResult parse, AuditResult result, CancellationToken cancellation)
    {
        var asked = Asked(parse).ToList();
        if (asked.Count == 0)
        {
            return [];
        }

        var charts = ChartSet.Of(result, Look(parse), cancellation).ToDictionary(c => c.Key);
        foreach (var (name, file) in asked)
        {
            if (!charts.TryGetValue(name, out var chart))
            {
                string meant = NearestWord.Of(name, charts.Keys) is { } near ? $"did you mean {near}? " : "";
                throw new InputException(InputProblem.Usage,
                    $"--figure names the chart {name}, which this report does not have; {meant}It has {string.Join(", ", charts.Keys)}");
            }

            ChartFile.Write(chart, file);
        }

        return [.. asked.Select(a => a.File)];
    }

    private IEnumerable<(string Name, string File)> Asked(ParseResult parse)
    {
        foreach (string figure in parse.GetValue(_figure) ?? [])
        {
            int at = figure.IndexOf('=', StringComparison.Ordinal);
            yield return at > 0 && at < figure.Length - 1
                ? (figure[..at], figure[(at + 1)..])
                : throw new InputException(InputProblem.Usage,
                    $"--figure is \"{figure}\"; a chart's name and a file were expected, with = between them and .png or .svg at "
                        + "the end, such as power-wall=power.svg");
        }
    }

    private ChartLook Look(ParseResult parse)
    {
        double? width = parse.GetValue(_width), scale = parse.GetValue(_scale);
        if (width is { } w && (w is < ChartLook.LeastWidthPx or > ChartLook.GreatestWidthPx || w != Math.Floor(w)))
        {
            throw new InputException(InputProblem.Usage, InvariantText.Of(
                $"--figure-width is {w}; whole pixels from {ChartLook.LeastWidthPx} to {ChartLook.GreatestWidthPx} were expected"));
        }

        return scale is < ChartLook.LeastScale or > ChartLook.GreatestScale
            ? throw new InputException(InputProblem.Usage, InvariantText.Of(
                $"--figure-scale is {scale}; a number from {ChartLook.LeastScale} to {ChartLook.GreatestScale} was expected"))
            : new ChartLook
            {
                WidthPx = (int?)width,
                Scale = scale ?? 1,
                Theme = parse.GetValue(_theme) == Themes[1] ? ChartTheme.Dark : ChartTheme.Light,
            };
    }
}
