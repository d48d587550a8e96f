//! Which servers give the same answers as this library.

use crate::failure::other_version;
use guardcell::{Error, excerpt};

/// The header in which a server says its version.
pub const VERSION_HEADER: &str = "guardcell-version";

/// The version of this crate.
pub(crate) const OWN: &str = env!("CARGO_PKG_VERSION");

/// Refuses a server whose answers may differ: as in Cargo, the leftmost non-zero part of the version
/// must agree.
pub(crate) fn check(url: &str, server: &str) -> Result<(), Error> {
    if breaking(server) == breaking(OWN) {
        return Ok(());
    }
    Err(other_version(url, &printable(server), OWN))
}

/// The leading parts of a version up to the first non-zero one.
fn breaking(version: &str) -> &str {
    let plain = version.split(['-', '+']).next().unwrap_or_default();
    let mut end = 0;
    for part in plain.split('.') {
        end += part.len();
        if part.bytes().any(|b| b != b'0') {
            break;
        }
        end += 1;
    }
    plain.get(..end).unwrap_or(plain)
}

/// Text from a server, short and printable.
pub(crate) fn printable(text: &str) -> String {
    excerpt(text, 80)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_leftmost_non_zero_part_counts() {
        for (version, part) in [
            ("0.1.0", "0.1"),
            ("0.1.7", "0.1"),
            ("0.0.3", "0.0.3"),
            ("1.4.2", "1"),
            ("12.0.1-rc.1+x", "12"),
            ("0.0.0", "0.0.0"),
            ("", ""),
        ] {
            assert_eq!(breaking(version), part, "{version}");
        }
    }

    #[test]
    fn another_version_is_refused() {
        assert!(check("http://x/", OWN).is_ok());
        let e = check("http://x/", "99.1.0").unwrap_err();
        assert!(e.to_string().contains("guardcell 99.1.0"), "{e}");
        assert!(check("http://x/", "").is_err());
    }
}
