using OpenCvSharp;

namespace CardScan.Vision.Tests;

/// <summary>Memory of pictures is used again, by one at a time, and not kept for longer than it is of use.</summary>
public sealed class PictureMemoryTests
{
    private const int Megabyte = 1 << 20;

    [Fact]
    public void Memory_that_is_given_back_serves_the_next_picture_of_its_size_or_less()
    {
        PictureMemory memory = new(most: 2);
        Mat first = memory.Take(5 * Megabyte - 7);
        Mat second = memory.Take(5 * Megabyte);
        nint place = first.Data;

        Assert.NotEqual(place, second.Data);
        memory.GiveBack(first);
        Assert.Equal(place, memory.Take(3 * Megabyte).Data);
    }

    [Fact]
    public void No_more_is_kept_than_pieces_and_recent_pictures_allow()
    {
        PictureMemory memory = new(most: 2);
        Mat[] taken = [memory.Take(2 * Megabyte), memory.Take(9 * Megabyte), memory.Take(4 * Megabyte)];
        foreach (Mat each in taken) memory.GiveBack(each);

        // The smallest of three pieces is one too many; the largest is freed when no recent picture needed as much.
        Assert.Equal(13L * Megabyte, memory.Kept);
        for (int i = 0; i < PictureMemory.Remembered; i++) memory.GiveBack(memory.Take(4 * Megabyte));
        Assert.Equal(4L * Megabyte, memory.Kept);
    }

    [Fact]
    public void Pictures_that_are_read_at_once_do_not_disturb_each_other()
    {
        byte[][] files = [.. new[] { "birch-engrave.jpg", "coated-metal-engrave.jpg", "birch-corners-covered.jpg" }
            .Select(name => File.ReadAllBytes(PhotoFiles.Fixture(name)))];
        double[] alone = [.. files.Select(MeanOf)];

        Parallel.For(0, 60, new() { MaxDegreeOfParallelism = 8 },
            i => Assert.Equal(alone[i % files.Length], MeanOf(files[i % files.Length])));

        static double MeanOf(byte[] file)
        {
            using DecodedPhoto photo = PhotoDecoder.Decode(file).Value;
            double sum = 0;
            for (int y = 0; y < photo.Picture.Height; y += 8)
                for (int x = 0; x < photo.Picture.Width; x += 8) sum += photo.Picture.At(x, y, out _).Luminance;
            return sum;
        }
    }
}
