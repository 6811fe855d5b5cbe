using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Settings;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Options;

/// <summary><c>--locale</c>: how the numbers and dates of texts for people are written. Every command has it.</summary>
internal static class LocaleOption
{
    public const string Name = "--locale";

    /// <summary>What was asked for, or else set; null for neither.</summary>
    public static WrittenForm? Of(ParseResult parse, CliHost host) => parse.GetValue<WrittenForm?>(Name)
        ?? (parse.Action is not HelpWithCautions && UserSettings.Of(host)[Setting.Locale] is { } set ? WrittenForm.Find(set.Text) : null);

    public static Option<WrittenForm?> Create() => new(Name)
    {
        Description = "numbers and dates for people as a country writes them: de, de-CH, en-GB, fr, sv and others",
        HelpName = "TAG",
        Recursive = true,
        CustomParser = result =>
        {
            string tag = result.Tokens[0].Value;
            if (WrittenForm.Find(tag) is { } form)
            {
                return form;
            }

            result.AddError($"{Name} is \"{tag}\"; one of {string.Join(", ", WrittenForm.All.Select(f => f.Tag))} was expected");
            return null;
        },
    };
}
