using System.Globalization;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Cli.Settings;

/// <summary>A default, and where it was set.</summary>
/// <param name="Text">The value as text; the parts of a list with <see cref="Setting.Separator"/> between them.</param>
/// <param name="From">The environment variable or the file.</param>
internal sealed record SetValue(string Text, string From)
{
    public double Number => double.Parse(Text, CultureInfo.InvariantCulture);
}

/// <summary>The defaults that a user has set. The environment goes before the file; a command's option, and a study file, before
/// both.</summary>
internal sealed class UserSettings
{
    /// <summary>The file's name in the program's folder among the user's configuration.</summary>
    public const string FileName = "settings.toml";

    private readonly Dictionary<Setting, SetValue> _values;

    private UserSettings(string? file, Dictionary<Setting, SetValue> values) => (File, _values) = (file, values);

    /// <summary>Where the file is, or would be; null where the user has no folder for it.</summary>
    public string? File { get; }

    /// <summary>What was set; null where nothing was.</summary>
    public SetValue? this[Setting setting] => _values.GetValueOrDefault(setting);

    /// <summary>Reads them.</summary>
    /// <param name="host">The world around the program.</param>
    /// <exception cref="InputException">A value cannot be used, or the file cannot be read.</exception>
    public static UserSettings Of(CliHost host)
    {
        string? file = host.ConfigurationFolder is { } folder ? Path.Combine(folder, FileName) : null;
        var values = file is not null && System.IO.File.Exists(file) ? OfFile(file) : [];
        foreach (var setting in Setting.All)
        {
            if (host.Variable(setting.Variable) is { Length: > 0 } text)
            {
                values[setting] = setting.Fault(text) is { } fault
                    ? throw new InputException(InputProblem.Usage, $"the environment variable {setting.Variable} is \"{text}\"; {fault}")
                    : new SetValue(text, $"the environment variable {setting.Variable}");
            }
        }

        return new UserSettings(file, values);
    }

    private static Dictionary<Setting, SetValue> OfFile(string file)
    {
        var table = new TomlTableReader(file, "", TomlNode.Parse(file, TextOf(file)), "the file of settings");
        var values = new Dictionary<Setting, SetValue>();
        foreach (var setting in Setting.All)
        {
            if (table.TryGet(setting.Key, out var node))
            {
                string text = node.Value switch
                {
                    double number => InvariantText.Of($"{number:R}"),
                    List<TomlNode> => string.Join(Setting.Separator, table.Texts(setting.Key)),
                    _ => table.Text(setting.Key)!,
                };
                values[setting] = setting.Fault(text) is { } fault
                    ? throw table.Refuse(node.Line, $"{setting.Key} is \"{text}\"; {fault}")
                    : new SetValue(text, file);
            }
        }

        table.Finish();
        return values;
    }

    private static string TextOf(string file)
    {
        try
        {
            return System.IO.File.ReadAllText(file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing,
                $"{file} cannot be read ({e.Message.TrimEnd('.')}); let it be read, or remove it", e);
        }
    }
}
