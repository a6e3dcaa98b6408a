namespace CardScan.Vision.Tests;

public sealed class PublicSurfaceTests
{
    [Fact]
    public void Only_the_entry_point_and_its_records_are_public() =>
        Assert.Equal(
            ["CameraResponse", "CardReader", "CardView", "OpenPhoto", "PhotoFile", "PhotoSeries", "VisionOptions"],
            typeof(CardReader).Assembly.GetExportedTypes().Select(type => type.Name).Order());

    [Fact]
    public void Native_picture_types_do_not_leave_the_stage() =>
        Assert.DoesNotContain(
            typeof(CardReader).Assembly.GetExportedTypes().SelectMany(type => type.GetMembers()).SelectMany(TypesOf),
            type => type.Assembly.GetName().Name!.StartsWith("OpenCv", StringComparison.Ordinal)
                || type.Assembly.GetName().Name!.StartsWith("Skia", StringComparison.Ordinal));

    private static IEnumerable<Type> TypesOf(System.Reflection.MemberInfo member) => member switch
    {
        System.Reflection.MethodInfo method => [method.ReturnType, .. method.GetParameters().Select(parameter => parameter.ParameterType)],
        System.Reflection.PropertyInfo property => [property.PropertyType],
        _ => [],
    };
}
