using CardScan.Model;

namespace CardScan.Web;

/// <summary>What a person typed into the fields of a page; a field has the name of the command line's option, without the dashes.</summary>
/// <param name="given">What stands in a field; null where the field is not there.</param>
internal sealed class TypedFields(Func<string, string?> given)
{
    /// <summary>The first field that cannot be taken; null where all that were asked for can.</summary>
    public Refusal? Fault { get; private set; }

    /// <summary>Fields of an address.</summary>
    public static TypedFields Of(IQueryCollection query) => new(name => query[name]);

    /// <summary>Fields of a form that was sent.</summary>
    /// <exception cref="BadHttpRequestException">It is no form, or a larger one than any page has.</exception>
    public static async Task<TypedFields> Of(HttpContext context)
    {
        if (!context.Request.HasFormContentType) return new(_ => null);
        try
        {
            IFormCollection form = await context.Request.ReadFormAsync(context.RequestAborted);
            return new(name => form[name]);
        }
        catch (InvalidDataException e)
        {
            throw new BadHttpRequestException(e.Message, StatusCodes.Status400BadRequest, e);
        }
    }

    /// <summary>The name of a field's option.</summary>
    public static string OptionOf(string name) => $"--{name}";

    /// <summary>What stands in a field, as it is.</summary>
    public string? Given(string name) => given(name);

    /// <summary>A text; null where nothing is typed.</summary>
    public string? Text(string name) => given(name)?.Trim() is { Length: > 0 } text ? text : null;

    /// <summary>Whether there is such a field, with or without anything in it.</summary>
    public bool IsThere(string name) => given(name) is not null;

    /// <summary>True for a box that is ticked.</summary>
    public bool Is(string name) => given(name) == "on";

    /// <summary>A number; null where nothing is typed or the field is at fault.</summary>
    public double? Number(string name)
    {
        if (Text(name) is not { } text) return null;
        Outcome<double> number = OptionValue.Number(OptionOf(name), text, NumberRange.OfOption(OptionOf(name)));
        Fault ??= number.Refusal;
        return number.IsRefused ? null : number.Value;
    }

    /// <summary>A width and a height.</summary>
    public CardSize? Size(string name) => Read(name, text => OptionValue.Size(OptionOf(name), text));

    /// <summary>How far a powered Z axis goes.</summary>
    public ZTravel? Travel(string name) => Read(name, text => OptionValue.Travel(OptionOf(name), text));

    /// <summary>The values of a setting.</summary>
    public SettingRange? Range(Setting setting) => Read(SettingRange.OptionOf(setting)[2..], text => SettingRange.Parse(setting, text));

    /// <summary>One of a few words; null where none is chosen.</summary>
    public string? Word(string name, params string[] words) => Read<string>(name, text => words.Contains(text)
        ? text
        : OptionValue.Invalid(OptionOf(name), text, new Phrase("option.one-of", ("words", List(words)))));

    private T? Read<T>(string name, Func<string, Outcome<T>> read)
        where T : class
    {
        if (Text(name) is not { } text) return null;
        Outcome<T> value = read(text);
        Fault ??= value.Refusal;
        return value.IsRefused ? null : value.Value;
    }
}
