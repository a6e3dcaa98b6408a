using System.Reflection;

namespace CardScan.Language.Tests;

public class VoiceTests
{
    [Fact]
    public void Every_sentence_can_be_read() =>
        Assert.All(LanguageFile.English.All, code => LanguageFile.English.TemplateOf(code));

    [Fact]
    public void Every_code_has_a_sentence_and_every_sentence_of_a_file_a_code()
    {
        string[] codes =
            [.. typeof(Codes).GetFields(BindingFlags.Public | BindingFlags.Static).Select(field => (string)field.GetRawConstantValue()!)];
        string[] said = [.. LanguageFile.English.All];

        string[] unsaid =
            [.. codes.Where(code => !said.Contains(code) && !(said.Contains($"{code}.seen") && said.Contains($"{code}.remedy")))];
        Assert.Empty(unsaid);
        Assert.Empty(LanguageFile.English.OfFiles.Select(said => said.Code.Split('.')[0]).Distinct().Except(codes));
        Assert.Equal(codes.Length, codes.Distinct().Count());
    }

    [Fact]
    public void Another_language_falls_back_to_English_where_it_has_no_sentence_yet()
    {
        LanguageFile other = LanguageFile.Parse("xx", """{ "unit": { "Mm": "{value} Millimeter" } }"""u8.ToArray());
        using (Voice.Speak(other))
        {
            Assert.Equal("xx", Voice.Language);
            Assert.Equal("2 Millimeter", Voice.Tell(Figures.Mm(2)));
            Assert.Equal("2 mm/min", Voice.Tell(Figures.Speed(2)));
        }

        Assert.Equal("en", Voice.Language);
    }

    [Fact]
    public async Task A_language_is_spoken_in_its_own_flow_alone()
    {
        LanguageFile other = LanguageFile.English.Map("qps-ploc", words => $"⟦{words}⟧");
        Task<string> here;
        using (Voice.Speak(other)) here = Task.Run(() => Voice.Tell(Figures.Mm(2)));
        Assert.Equal("2⟦ mm⟧", await here);
        Assert.Equal("2 mm", Voice.Tell(Figures.Mm(2)));
    }

    [Fact]
    public void An_unknown_code_of_a_file_has_no_sentence() => Assert.Null(Voice.TrySay("of-a-later-version", []));

    [Fact]
    public void A_sentence_without_its_value_is_none() => Assert.Null(Voice.TrySay("unit.Mm", []));
}
