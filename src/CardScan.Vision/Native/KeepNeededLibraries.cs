using System;
using System.Collections.Generic;
using System.IO;
using System.Text;
using Microsoft.Build.Framework;
using Microsoft.Build.Utilities;

/// <summary>
/// Writes a copy of a 64-bit ELF library that asks the loader for the libraries of an allowed list alone. The others
/// must serve nothing but calls that are bound when they are first made (and never are): any other use is an error
/// that names the symbol. The layout is the ELF specification's (System V ABI, "Dynamic Linking"; AMD64 supplement).
/// </summary>
public class KeepNeededLibraries : Task
{
    private const long Needed = 1, StringTable = 5, SymbolTable = 6, Relocations = 7, RelocationsSize = 8, End = 0;
    private const long SymbolVersions = 0x6ffffff0, Flags = 30, BindNow = 24, FlagsOne = 0x6ffffffb;
    private const int DynamicEntry = 16, SymbolEntry = 24, RelocationEntry = 24, ProgramHeader = 56;
    private const uint LoadSegment = 1, DynamicSegment = 2;

    private byte[] _file = Array.Empty<byte>();

    /// <summary>The library as it came.</summary>
    [Required]
    public string Source { get; set; } = "";

    /// <summary>Where the copy goes; it appears whole or not at all.</summary>
    [Required]
    public string Target { get; set; } = "";

    /// <summary>Names of the libraries that may stay, such as libc.so.6.</summary>
    [Required]
    public string[] Allowed { get; set; } = Array.Empty<string>();

    /// <inheritdoc/>
    public override bool Execute()
    {
        try
        {
            _file = File.ReadAllBytes(Source);
            DropNeeded();
            Directory.CreateDirectory(Path.GetDirectoryName(Target)!);
            string own = Target + "." + Guid.NewGuid().ToString("N");
            File.WriteAllBytes(own, _file);
            PutInPlace(own);
        }
        catch (Exception e) when (e is InvalidDataException or IndexOutOfRangeException or ArgumentException or OverflowException)
        {
            Log.LogErrorFromException(new InvalidDataException(
                Source + " cannot be freed of the libraries that CardScan does not use: " + e.Message));
        }
        return !Log.HasLoggedErrors;
    }

    /// <summary>Several projects may get here at once: whichever comes last wins, with the same bytes.</summary>
    private void PutInPlace(string own)
    {
        try
        {
            File.Move(own, Target);
        }
        catch (IOException) when (File.Exists(Target))
        {
            File.Replace(own, Target, null);
        }
    }

    private void DropNeeded()
    {
        if (_file.Length < 64 || BitConverter.ToUInt32(_file, 0) != 0x464c457f || _file[4] != 2 || _file[5] != 1)
        {
            throw new InvalidDataException("it is no 64-bit ELF file.");
        }

        List<(long Tag, long Value)> entries = Entries(out int start);
        long strings = Value(entries, StringTable);
        CheckBinding(entries, strings);
        HashSet<string> allowed = new(Allowed, StringComparer.Ordinal);
        int at = start;
        foreach ((long tag, long value) in entries)
        {
            if (tag == Needed && !allowed.Contains(Name(strings, value))) continue;
            Write(at, tag, value);
            at += DynamicEntry;
        }
        for (; at < start + entries.Count * DynamicEntry; at += DynamicEntry) Write(at, End, 0);
    }

    /// <summary>All entries of the dynamic section before its end.</summary>
    private List<(long Tag, long Value)> Entries(out int start)
    {
        start = (int)Segment(DynamicSegment, _ => true).Offset;
        List<(long, long)> entries = new();
        for (int at = start; BitConverter.ToInt64(_file, at) != End; at += DynamicEntry)
        {
            entries.Add((BitConverter.ToInt64(_file, at), BitConverter.ToInt64(_file, at + 8)));
        }
        return entries;
    }

    /// <summary>
    /// What the loader binds at once (addresses of functions in tables, variables) must be the file's own, weak, or of a
    /// named version: the allowed libraries name versions, those that go do not.
    /// </summary>
    private void CheckBinding(List<(long Tag, long Value)> entries, long strings)
    {
        if (entries.Exists(e => e.Tag == BindNow || (e.Tag == Flags && (e.Value & 8) != 0) || (e.Tag == FlagsOne && (e.Value & 1) != 0)))
        {
            throw new InvalidDataException("the loader would bind all of its calls at once.");
        }
        int symbols = Offset(Value(entries, SymbolTable)), versions = Offset(Value(entries, SymbolVersions));
        int at = Offset(Value(entries, Relocations)), end = at + checked((int)Value(entries, RelocationsSize));
        for (; at < end; at += RelocationEntry)
        {
            int index = BitConverter.ToInt32(_file, at + 12), symbol = symbols + index * SymbolEntry;
            if (index == 0) continue; // relative to where the file itself is loaded
            bool isOwn = BitConverter.ToUInt16(_file, symbol + 6) != 0, isWeak = _file[symbol + 4] >> 4 == 2;
            bool hasVersion = (BitConverter.ToUInt16(_file, versions + 2 * index) & 0x7fff) > 1;
            if (isOwn || isWeak || hasVersion) continue;
            string name = Name(strings, BitConverter.ToUInt32(_file, symbol));
            throw new InvalidDataException("it needs \"" + name + "\" when it is loaded, not only when that is called.");
        }
    }

    private static long Value(List<(long Tag, long Value)> entries, long tag)
    {
        int at = entries.FindIndex(e => e.Tag == tag);
        return at >= 0 ? entries[at].Value : throw new InvalidDataException("its dynamic section has no entry " + tag + ".");
    }

    private string Name(long strings, long at)
    {
        int start = Offset(strings + at);
        return Encoding.ASCII.GetString(_file, start, Array.IndexOf(_file, (byte)0, start) - start);
    }

    /// <summary>Where in the file an address lies when it is loaded.</summary>
    private int Offset(long address)
    {
        (long offset, long start) = Segment(LoadSegment, s => address >= s.Start && address < s.Start + s.Size);
        return checked((int)(offset + address - start));
    }

    private (long Offset, long Start) Segment(uint kind, Func<(long Start, long Size), bool> holds)
    {
        int headers = checked((int)BitConverter.ToInt64(_file, 32)), count = BitConverter.ToUInt16(_file, 56);
        for (int at = headers; at < headers + count * ProgramHeader; at += ProgramHeader)
        {
            long start = BitConverter.ToInt64(_file, at + 16), size = BitConverter.ToInt64(_file, at + 32);
            if (BitConverter.ToUInt32(_file, at) == kind && holds((start, size))) return (BitConverter.ToInt64(_file, at + 8), start);
        }
        throw new InvalidDataException("it has no segment where one should be.");
    }

    private void Write(int at, long tag, long value)
    {
        BitConverter.GetBytes(tag).CopyTo(_file, at);
        BitConverter.GetBytes(value).CopyTo(_file, at + 8);
    }
}
