//! A checksum of each entry, so that a bit that changed on the disk is found.

/// CRC-32 of the place of an entry and its body. It finds damage; it is not a proof against somebody
/// who wants to deceive.
pub(crate) fn checksum(seq: i64, body: &str) -> i64 {
    let mut crc = crc32fast::Hasher::new();
    crc.update(&seq.to_be_bytes());
    crc.update(body.as_bytes());
    i64::from(crc.finalize())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bit_and_the_place_count() {
        // The check value of CRC-32/ISO-HDLC for "123456789" is cbf43926 (catalogue of parametrised
        // CRC algorithms; RFC 1952, section 8, gives the same polynomial).
        assert_eq!(crc32fast::hash(b"123456789"), 0xcbf4_3926);
        let body = r#"{"feed_strength_mg_l":300}"#;
        let sum = checksum(1, body);
        assert_ne!(sum, checksum(2, body));
        for (i, byte) in body.bytes().enumerate() {
            for bit in 0..7 {
                let mut other = body.as_bytes().to_vec();
                other[i] = byte ^ (1 << bit);
                assert_ne!(sum, checksum(1, std::str::from_utf8(&other).unwrap()));
            }
        }
    }
}
