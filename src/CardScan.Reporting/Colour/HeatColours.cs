namespace CardScan.Reporting;

/// <summary>Colours for a quantity on the grid: perceptually even, alike for normal and red-green-blind eyes, and even in grey.</summary>
/// <remarks>
/// The map "cividis", 256 entries, from J. R. Nuñez, C. R. Anderton, R. S. Renslow: Optimizing colormaps with
/// consideration for color vision deficiency to enable accurate interpretation of scientific data. PLoS ONE 13(7),
/// e0199239 (2018), https://doi.org/10.1371/journal.pone.0199239.
/// </remarks>
internal static class HeatColours
{
    /// <summary>Entries of the map.</summary>
    public const int Count = 256;

    private const string Table =
        "00224e00234f00245100255300255400265600275800285900285b00295d002a5f002a61002b62002c64002c66002d68"
        + "002e6a002e6c002f6d00306f0030700031700031710132710533710833700c34700f357012357014367016377018376f"
        + "1a386f1c396f1e3a6f203a6f213b6e233c6e243c6e263d6e273e6e293f6e2a3f6d2b406d2d416d2e416d2f426d31436d"
        + "32436d33446d34456c35456c36466c38476c39486c3a486c3b496c3c4a6c3d4a6c3e4b6c3f4c6c404c6c414d6c424e6c"
        + "434e6c444f6c45506c46516c47516c48526c49536c4a536c4b546c4c556c4d556c4e566c4f576c50576c51586d52596d"
        + "535a6d545a6d555b6d555c6d565c6d575d6d585e6d595e6e5a5f6e5b606e5c616e5d616e5e626e5e636f5f636f60646f"
        + "61656f62656f636670646770656870656870666970676a71686a71696b716a6c716b6d726c6d726c6e726d6f726e6f73"
        + "6f70737071737172747272747273747374757474757575757676767777767777777878777979777a7a787b7a787c7b78"
        + "7d7c787e7c787e7d787f7e78807f78817f788280798381798482798582798683798784788885788985788a86788b8778"
        + "8c88788d88788e89788f8a78908b78918b78928c78928d78938e78948e77958f779690779791779892779992779a9376"
        + "9b94769c95769d95769e96769f9775a09875a19975a29975a39a74a49b74a59c74a69c74a79d73a89e73a99f73aaa073"
        + "aba072aca172ada272aea371afa471b0a571b1a570b3a670b4a76fb5a86fb6a96fb7a96eb8aa6eb9ab6dbaac6dbbad6d"
        + "bcae6cbdae6cbeaf6bbfb06bc0b16ac1b26ac2b369c3b369c4b468c5b568c6b667c7b767c8b866c9b965cbb965ccba64"
        + "cdbb63cebc63cfbd62d0be62d1bf61d2c060d3c05fd4c15fd5c25ed6c35dd7c45cd9c55cdac65bdbc75adcc859ddc858"
        + "dec958dfca57e0cb56e1cc55e2cd54e4ce53e5cf52e6d051e7d150e8d24fe9d34eead34cebd44bedd54aeed649efd748"
        + "f0d846f1d945f2da44f3db42f5dc41f6dd3ff7de3ef8df3cf9e03afbe138fce236fde334fee434fee535fee636fee838";

    /// <summary>The colour of a share of the scale: 0 is the darkest, 1 the lightest; what lies outside gets the end's colour.</summary>
    public static Rgb At(double share01) => Entry((int)Math.Round(Math.Clamp(share01, 0, 1) * (Count - 1)));

    /// <summary>One entry, 0 to 255.</summary>
    public static Rgb Entry(int index)
    {
        byte[] rgb = Convert.FromHexString(Table.AsSpan(index * 6, 6));
        return new(rgb[0], rgb[1], rgb[2]);
    }
}
