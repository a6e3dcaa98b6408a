namespace CardScan.Model;

/// <summary>A phone whose tone curve series of photos told.</summary>
/// <param name="Id">Its id; never given twice.</param>
/// <param name="Camera">The phone, by the words of its files.</param>
/// <param name="Series">What its series told, newest first, one a day.</param>
public sealed record PhoneEntry(long Id, PhotoCamera Camera, ValueList<PhoneSeries> Series)
{
    /// <summary>Its name in commands: <c>p2</c>.</summary>
    public string Name => $"p{Id}";
}

/// <summary>A series of photos of one day.</summary>
/// <param name="Day">When: 2027-03-14, by the phone's clock where its files tell, else by that of the computer.</param>
/// <param name="ReadingId">The reading that it stands in.</param>
/// <param name="Response">The curve that it told.</param>
public sealed record PhoneSeries(string Day, long ReadingId, PhotoResponse Response)
{
    /// <summary>The reading's name in commands: <c>r12</c>.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);
}
