using System.Runtime.CompilerServices;

namespace ChargeAudit.Logs.Reading;

/// <summary>How many digits a number has before and after its decimal separator, and the masks and shifts that pick them out of its
/// bytes.</summary>
internal readonly struct Shape
{
    /// <summary>A shape.</summary>
    /// <param name="whole">Digits before the separator.</param>
    /// <param name="places">Digits after it; 0 without one.</param>
    /// <param name="points">Separators, 0 or 1.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Shape(int whole, int places, int points)
    {
        unchecked
        {
            (Whole, Places, Points) = (whole, places, points);
            int digits = whole + places;
            IsShort = (uint)(digits - 1) < Digits.Word;
            IsLong = (uint)(digits - Digits.Word - 1) < Digits.Word && places <= Digits.Word;

            // The digits before the separator are moved up by the byte that it takes. In two steps, as a shift by all 64 bits does nothing.
            int before = IsShort ? whole : Digits.Word - places;
            Before = (1UL << (4 * before) << (4 * before)) - 1;
            Shift = 64 - (8 * (IsShort ? digits : digits - Digits.Word));
            Last = digits - Digits.Word;
        }
    }

    /// <summary>Digits before the separator.</summary>
    public int Whole { get; }

    /// <summary>Digits after the separator.</summary>
    public int Places { get; }

    /// <summary>Separators, 0 or 1.</summary>
    public int Points { get; }

    /// <summary>Whether there are one to eight digits.</summary>
    public bool IsShort { get; }

    /// <summary>Whether there are nine to sixteen digits, at most eight of them after the separator.</summary>
    public bool IsLong { get; }

    /// <summary>The bytes of the last eight digits that stand before the separator.</summary>
    public ulong Before { get; }

    /// <summary>Where the last eight digits of a long number begin, from its start. [bytes]</summary>
    public int Last { get; }

    /// <summary>What moves the first digits to the end of a word: up to eight of a short number, those but the last eight of a long one.
    /// [bits]</summary>
    public int Shift { get; }
}
