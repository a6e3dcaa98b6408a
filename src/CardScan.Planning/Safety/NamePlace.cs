namespace CardScan.Planning;

/// <summary>Where a known name may stand inside another text.</summary>
internal enum NameWhere
{
    /// <summary>Anywhere, also inside a compound.</summary>
    Anywhere,

    /// <summary>At the start of a word.</summary>
    Start,

    /// <summary>As a whole word.</summary>
    Word,

    /// <summary>As a whole word that no other follows but one of form, colour or size: "powder", but not "powder coated".</summary>
    Last,

    /// <summary>As a whole word beside a word of form, or alone but for colours and sizes.</summary>
    Context,

    /// <summary>The same, and only in capitals.</summary>
    Capitals,
}

/// <summary>A place in a text where the letters of a known name stand: whether they mean it, and whether it is denied.</summary>
internal readonly record struct NamePlace(FoldedName Name, int Start, int End)
{
    /// <summary>So short that a break inside is more likely the break between two other words.</summary>
    private const int Short = 4;

    /// <summary>So long that its letters are no chance, wherever they end.</summary>
    private const int Long = 8;

    /// <summary>Most words between a denial and the name.</summary>
    private const int MostLinks = 3;

    private int Length => End - Start;

    private bool IsIdeographic => Name.Text[Start] >= '\u2e80' || Name.Text[End - 1] >= '\u2e80';

    /// <summary>Whether the name is meant here.</summary>
    internal bool IsMeant(NameWhere where)
    {
        if (!IsInOnePiece || IsShortened) return false;
        return where switch
        {
            NameWhere.Anywhere => IsIdeographic || !IsBroken || (Name.IsEdge(Start) && (Length >= Long || EndsAsWord)),
            NameWhere.Start => Name.IsEdge(Start),
            NameWhere.Word => Name.IsEdge(Start) && EndsAsWord,
            NameWhere.Last => Name.IsEdge(Start) && EndsAsWord && IsLast,
            NameWhere.Context => Name.IsEdge(Start) && EndsAsWord && !IsCount && IsMaterial,
            _ => Name.IsEdge(Start) && EndsAsWord && Name.IsUpper(Start, End) && IsMaterial,
        };
    }

    /// <summary>Whether the name is clearly denied, directly before or after; call it only where nothing is unsure.</summary>
    internal bool IsDenied => IsDeniedBefore() ? !IsFreeAfter() : IsFreeAfter() && !IsUnspacedDenied();

    private bool IsBroken => Name.Breaks(Start, End) is not (0, 0, 0);

    private bool IsInOnePiece
    {
        get
        {
            (_, int spaces, int stops) = Name.Breaks(Start, End);
            if (stops > 0) return false;
            return spaces == 0 || Length > Short || IsIdeographic || IsSpaceBeforeNumber(spaces);
        }
    }

    /// <summary>"FR 4", but not "120 g 10 sheets".</summary>
    private bool IsSpaceBeforeNumber(int spaces)
    {
        int digit = Start;
        while (digit < End && !char.IsDigit(Name.Text[digit])) digit++;
        return spaces == 1 && digit < End && digit - Start >= 2 && Name.GapBefore(digit) == NameGap.Space;
    }

    /// <summary>"abs. flat" is a shortened word.</summary>
    private bool IsShortened => Length <= Short && End < Name.Text.Length && Name.IsAbbreviated(End) && Name.IsLower(Start, End)
        && char.IsLetter(Name.Text[End]) && !IsBroken && !NameWords.Forms.Contains(Next(End)) && !NameWords.Fillers.Contains(Next(End));

    private bool EndsAsWord => Name.IsEdge(End) || IsPlural || NameWords.Forms.Contains(Next(End));

    private bool IsLast => WordAfter() is (null, _) or (_, true) || NameWords.Forms.Contains(WordAfter().Word!);

    private bool IsPlural => Length >= Short && End < Name.Text.Length && Name.Text[End] == 's' && Name.IsEdge(End + 1);

    /// <summary>"1 pc": a piece.</summary>
    private bool IsCount => Start > 0 && char.IsDigit(Name.Text[Start - 1]) && !(Name.IsUpper(Start, End) && Name.HasLower);

    private bool IsMaterial
    {
        get
        {
            (string? before, bool isApartBefore) = WordBefore();
            (string? after, bool isApartAfter) = WordAfter();
            if (before is null && after is null) return true;
            if (before is not null && !isApartBefore && NameWords.Forms.Contains(before)) return true;
            if (after is not null && !isApartAfter && NameWords.Forms.Contains(after)) return true;
            return Name.IsUpper(Start, End) && Name.HasLower && HasSize;
        }
    }

    /// <summary>"PC 3 mm", "3 mm PC"</summary>
    private bool HasSize
    {
        get
        {
            if (End < Name.Text.Length && char.IsDigit(Name.Text[End]) && Next(Name.WordEnd(End)) is "mm" or "cm") return true;
            int unit = Name.WordStart(Start);
            return Start >= 3 && Name.Word(unit, Start) is "mm" or "cm" && char.IsDigit(Name.Text[unit - 1]);
        }
    }

    /// <summary>The nearest word before that says something, and whether a stop is between.</summary>
    private (string? Word, bool IsApart) WordBefore()
    {
        int end = Start;
        bool isApart = false;
        while (end > 0)
        {
            int start = Name.WordStart(end);
            isApart |= Name.GapBefore(end) == NameGap.Stop;
            string word = Name.Word(start, end);
            if (!IsFiller(word)) return (word, isApart);
            end = start;
        }

        return (null, isApart);
    }

    /// <summary>The nearest word behind that says something, and whether a stop is between.</summary>
    private (string? Word, bool IsApart) WordAfter()
    {
        int start = End;
        bool isApart = false;
        while (start < Name.Text.Length)
        {
            isApart |= Name.GapBefore(start) == NameGap.Stop;
            string word = Next(start);
            if (!IsFiller(word)) return (word, isApart);
            start = Name.WordEnd(start);
        }

        return (null, isApart);
    }

    private static bool IsFiller(string word) => word.Length > 0 && (char.IsDigit(word[0]) || NameWords.Fillers.Contains(word));

    private string Next(int start) => start >= Name.Text.Length ? "" : Name.Word(start, Name.WordEnd(start));

    /// <summary>"PVC-free", but not "PVC free of charge".</summary>
    private bool IsFreeAfter()
    {
        int end = IsPlural ? End + 1 : End;
        if (end >= Name.Text.Length || Name.GapBefore(end) == NameGap.Stop) return false;
        if (!NameWords.DenialsAfter.Contains(Next(end))) return false;
        int next = Name.WordEnd(end);
        return next >= Name.Text.Length || Name.GapBefore(next) == NameGap.Stop || !NameWords.Ofs.Contains(Next(next));
    }

    private bool IsDeniedBefore()
    {
        if (IsUnspacedDenied()) return true;
        int end = Start;
        string after = "";
        for (int links = 0; links <= MostLinks && end > 0; links++)
        {
            if (Name.GapBefore(end) == NameGap.Stop || Name.IsAbbreviated(end)) return false;
            int start = Name.WordStart(end);
            string word = Name.Word(start, end);
            bool isDenial = NameWords.Denials.Contains(word) || (NameWords.Ofs.Contains(after) && NameWords.DenialsWithOf.Contains(word));
            if (isDenial) return IsPlain(start);
            if (!NameWords.Links.Contains(word)) return false;
            (end, after) = (start, word);
        }

        return false;
    }

    /// <summary>No second denial stands before the first, and no word behind which "no" is a number.</summary>
    private bool IsPlain(int start)
    {
        if (start == 0 || Name.GapBefore(start) == NameGap.Stop) return true;
        string before = Name.Word(Name.WordStart(start), start);
        return !NameWords.Denials.Contains(before) && !NameWords.Numbered.Contains(before);
    }

    private bool IsUnspacedDenied()
    {
        if (Name.GapBefore(Start) == NameGap.Stop) return false;
        ReadOnlySpan<char> before = Name.Text.AsSpan(0, Start);
        foreach (string denial in NameWords.DenialsUnspaced)
        {
            if (!before.EndsWith(denial, StringComparison.Ordinal)) continue;
            before = before[..^denial.Length];
            return before.Length == 0 || !"不非无無没沒".Contains(before[^1], StringComparison.Ordinal);
        }

        return false;
    }
}
