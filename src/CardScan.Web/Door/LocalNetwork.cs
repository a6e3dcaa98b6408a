using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace CardScan.Web;

/// <summary>Where this computer is found in its local network.</summary>
public static class LocalNetwork
{
    /// <summary>
    /// This computer's private address: of an interface that is up and, if possible, leads somewhere. Null where there is none, or
    /// where the system does not tell.
    /// </summary>
    public static IPAddress? Address()
    {
        try
        {
            return NetworkInterface.GetAllNetworkInterfaces()
                .Where(each => each.OperationalStatus == OperationalStatus.Up
                    && each.NetworkInterfaceType is not (NetworkInterfaceType.Loopback or NetworkInterfaceType.Tunnel))
                .OrderByDescending(each => each.GetIPProperties().GatewayAddresses.Any(gateway => !gateway.Address.Equals(IPAddress.Any)))
                .SelectMany(each => each.GetIPProperties().UnicastAddresses)
                .Select(each => each.Address)
                .FirstOrDefault(address => address.AddressFamily == AddressFamily.InterNetwork && IsPrivate(address));
        }
        catch (NetworkInformationException)
        {
            return null;
        }
    }

    /// <summary>True for an address that no other network routes to (RFC 1918, section 3), or that of the computer itself.</summary>
    internal static bool IsPrivate(IPAddress address) => address.GetAddressBytes() is
        [10, _, _, _] or [172, >= 16 and <= 31, _, _] or [192, 168, _, _] or [127, _, _, _];
}
