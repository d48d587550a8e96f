//! What a host name stands for, and whether that is the own network.

use crate::error::FetchFault;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, ToSocketAddrs};
use std::sync::mpsc;
use std::time::Duration;
use url::{Host, Url};

/// The addresses of a URL. The resolver of the system knows no time limit, so it runs on a thread
/// of its own.
pub(crate) fn resolve(url: &Url, seconds: f64) -> Result<Vec<SocketAddr>, FetchFault> {
    let port = url.port_or_known_default().unwrap_or(80);
    let host = match url.host() {
        Some(Host::Ipv4(ip)) => return Ok(vec![SocketAddr::new(IpAddr::V4(ip), port)]),
        Some(Host::Ipv6(ip)) => return Ok(vec![SocketAddr::new(IpAddr::V6(ip), port)]),
        Some(Host::Domain(name)) => name.to_owned(),
        None => String::new(),
    };
    let fault = |detail: String| FetchFault::NameResolution { host: host.clone(), detail };
    let (send, receive) = mpsc::channel();
    let name = host.clone();
    std::thread::spawn(move || {
        let found = (name.as_str(), port).to_socket_addrs().map(Iterator::collect::<Vec<_>>);
        // Nobody waits for it any more where this fails.
        let _ = send.send(found);
    });
    match receive.recv_timeout(Duration::from_secs_f64(seconds)) {
        Ok(Ok(addresses)) if !addresses.is_empty() => Ok(addresses),
        Ok(Ok(_)) => Err(fault("it has no address".into())),
        Ok(Err(e)) => Err(fault(e.to_string())),
        Err(_) => Err(fault(format!("no answer within {seconds} s"))),
    }
}

/// Whether an address is this machine, the own network, or one that no service on the open network
/// has: the special-purpose registries of IANA (RFC 6890).
pub(super) fn is_private(ip: IpAddr) -> bool {
    match ip {
        IpAddr::V4(ip) => is_private_v4(ip),
        IpAddr::V6(ip) => is_private_v6(ip),
    }
}

fn is_private_v4(ip: Ipv4Addr) -> bool {
    let [a, b, c, _] = ip.octets();
    ip.is_private()
        || ip.is_loopback()
        || ip.is_link_local()
        || ip.is_broadcast()
        || ip.is_multicast()
        || ip.is_documentation()
        || a == 0
        || (a == 100 && (64..128).contains(&b))
        || (a == 192 && b == 0 && c == 0)
        // The withdrawn relay of 6to4 (RFC 7526).
        || (a == 192 && b == 88 && c == 99)
        || (a == 198 && (18..20).contains(&b))
        || a >= 240
}

fn is_private_v6(ip: Ipv6Addr) -> bool {
    if let Some(v4) = ip.to_ipv4_mapped() {
        return is_private_v4(v4);
    }
    let [first, second, third, .., high, low] = ip.segments();
    // 6to4 (RFC 3056) and Teredo (RFC 4380) tunnel to an IPv4 address that the address names.
    if first == 0x2002 || (first == 0x2001 && second == 0) {
        return true;
    }
    // Site-local addresses (RFC 3879), and IPv4-compatible ones (RFC 4291).
    if first & 0xffc0 == 0xfec0 || (first == 0 && second == 0 && third == 0 && high != 0) {
        return true;
    }
    // Translated addresses (RFC 6052) lead to the IPv4 address at their end.
    if first == 0x64 && second == 0xff9b {
        let [a, b] = high.to_be_bytes();
        let [c, d] = low.to_be_bytes();
        return is_private_v4(Ipv4Addr::new(a, b, c, d));
    }
    ip.is_loopback()
        || ip.is_unspecified()
        || ip.is_multicast()
        || ip.is_unique_local()
        || ip.is_unicast_link_local()
        || (first == 0x2001 && second == 0xdb8)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Addresses of RFC 6890, and of the open network (those of root servers, RFC 8499 and IANA).
    #[test]
    fn knows_the_own_network() {
        for (ip, private) in [
            ("127.0.0.1", true),
            ("10.1.2.3", true),
            ("172.16.0.1", true),
            ("192.168.1.1", true),
            ("169.254.169.254", true),
            ("100.64.0.1", true),
            ("0.0.0.0", true),
            ("::1", true),
            ("::", true),
            ("fe80::1", true),
            ("fc00::1", true),
            ("::ffff:127.0.0.1", true),
            ("64:ff9b::a01:203", true),
            ("2002:7f00:1::", true),
            ("2002:c0a8:101::1", true),
            ("2001:0:4136:e378:8000:63bf:3fff:fdd2", true),
            ("fec0::1", true),
            ("feff::1", true),
            ("::7f00:1", true),
            ("192.88.99.1", true),
            ("192.88.98.1", false),
            ("2001:4:112::1", false),
            ("198.41.0.4", false),
            ("172.32.0.1", false),
            ("100.128.0.1", false),
            ("2001:503:ba3e::2:30", false),
            ("64:ff9b::c629:4", false),
        ] {
            assert_eq!(is_private(ip.parse().unwrap()), private, "{ip}");
        }
    }
}
