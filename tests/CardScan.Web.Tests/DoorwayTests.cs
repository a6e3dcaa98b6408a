namespace CardScan.Web.Tests;

/// <summary>Codes and keys by themselves.</summary>
public class DoorwayTests
{
    private sealed class Clock : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2026, 3, 1, 8, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }

    [Fact]
    public void A_phones_code_lets_one_phone_in_and_is_another_one_then()
    {
        Doorway door = new(new Clock());
        string code = door.PhoneCode();
        Assert.Equal(code, door.PhoneCode());
        Guest phone = door.Enter(code, isComputer: false, "Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X)")!;
        Assert.Equal(("iphone", false), (phone.Device, phone.IsComputer));
        Assert.Null(door.Enter(code, isComputer: false, ""));
        Assert.NotEqual(code, door.PhoneCode());
        Assert.Same(phone, door.Know(phone.Key, isComputer: false));
    }

    [Fact]
    public void A_phones_code_is_good_for_ten_minutes()
    {
        Clock clock = new();
        Doorway door = new(clock);
        string code = door.PhoneCode();
        clock.Now += Doorway.CodeLife;
        Assert.Null(door.Enter(code, isComputer: false, ""));
        Assert.NotEqual(code, door.PhoneCode());
    }

    [Fact]
    public void A_phones_key_opens_nothing_on_the_computers_own_address_and_the_other_way_round()
    {
        Doorway door = new(new Clock());
        Guest phone = door.Enter(door.PhoneCode(), isComputer: false, "")!, computer = door.Enter(door.ComputerCode, isComputer: true, "")!;
        Assert.Null(door.Know(phone.Key, isComputer: true));
        Assert.Null(door.Know(computer.Key, isComputer: false));
        Assert.Null(door.Enter(door.ComputerCode, isComputer: false, ""));
        Assert.Null(door.Enter(door.PhoneCode(), isComputer: true, ""));
    }

    [Fact]
    public void A_phone_that_is_sent_away_is_out_and_the_computer_never_is()
    {
        Doorway door = new(new Clock());
        Guest phone = door.Enter(door.PhoneCode(), isComputer: false, "")!, computer = door.Enter(door.ComputerCode, isComputer: true, "")!;
        door.SendAway(phone.Number);
        door.SendAway(computer.Number);
        Assert.Null(door.Know(phone.Key, isComputer: false));
        Assert.Same(computer, Assert.Single(door.Guests));
    }

    [Fact]
    public void Secrets_have_128_bits_and_no_two_are_alike()
    {
        string[] codes = [.. Enumerable.Range(0, 1000).Select(_ => new Doorway(new Clock()).ComputerCode)];
        Assert.All(codes, code => Assert.Equal(16, Convert.FromBase64String(code.Replace('-', '+').Replace('_', '/') + "==").Length));
        Assert.Equal(codes.Length, codes.Distinct().Count());
    }
}
