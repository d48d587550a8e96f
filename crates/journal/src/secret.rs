//! Codes and tokens: random, and kept as hashes only.

use ring::digest::{SHA256, digest};
use ring::rand::{SecureRandom as _, SystemRandom};
use subtle::ConstantTimeEq as _;

/// Letters and digits that are not taken for each other, neither read nor heard: 24 of them.
const ALPHABET: &[u8; 24] = b"34679ACDEFGHJKMNPQRTVWXY";
/// Characters of a code: 10 of 24 are 45.8 bits.
const CODE_LENGTH: usize = 10;
/// Bytes of a token: 256 bits.
const TOKEN_BYTES: usize = 32;

/// The system gives no random numbers.
const NO_RANDOM: &str = "the system gives no random numbers";

/// A new pairing code, without groups.
pub(crate) fn code() -> Result<String, &'static str> {
    let mut out = String::with_capacity(CODE_LENGTH);
    while out.len() < CODE_LENGTH {
        let mut byte = [0];
        SystemRandom::new().fill(&mut byte).map_err(|_| NO_RANDOM)?;
        // The rest of 256 by 24 is thrown away, so that each character is as likely as another.
        let [byte] = byte;
        if byte < 240
            && let Some(c) = ALPHABET.get(usize::from(byte % 24))
        {
            out.push(char::from(*c));
        }
    }
    Ok(out)
}

/// A code in two groups, for reading.
pub(crate) fn grouped(code: &str) -> String {
    match code.split_at_checked(CODE_LENGTH / 2) {
        Some((a, b)) => format!("{a}-{b}"),
        None => code.to_owned(),
    }
}

/// A code as it was made, from how a person typed it.
pub(crate) fn letters(typed: &str) -> String {
    let wanted = |c: &char| !c.is_whitespace() && !matches!(c, '-' | '\u{2010}'..='\u{2015}');
    typed.chars().filter(wanted).map(|c| c.to_ascii_uppercase()).collect()
}

/// A new token, in hexadecimal digits.
pub(crate) fn token() -> Result<String, &'static str> {
    let mut bytes = [0; TOKEN_BYTES];
    SystemRandom::new().fill(&mut bytes).map_err(|_| NO_RANDOM)?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}

/// The SHA-256 of a code or token. A token is random throughout, so that a plain hash cannot be
/// searched back; a code lives for ten minutes.
pub(crate) struct Hash([u8; 32]);

impl Hash {
    pub(crate) fn of(secret: &str) -> Self {
        let mut out = [0; 32];
        out.copy_from_slice(digest(&SHA256, secret.as_bytes()).as_ref());
        Self(out)
    }

    /// That of a code, which is never that of a token.
    pub(crate) fn of_code(code: &str) -> Self {
        Self::of(&format!("code {code}"))
    }

    pub(crate) const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// Whether this is a kept hash; takes as long for any of that length.
    pub(crate) fn is(&self, kept: &[u8]) -> bool {
        self.0.ct_eq(kept).into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::{BTreeMap, BTreeSet};

    #[test]
    fn the_hash_is_sha_256() {
        // FIPS 180-2, appendix B.1: the digest of "abc".
        let hex: String = Hash::of("abc").bytes().iter().map(|b| format!("{b:02x}")).collect();
        assert_eq!(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert!(Hash::of("abc").is(Hash::of("abc").bytes()));
        assert!(!Hash::of("abc").is(Hash::of("abd").bytes()));
        assert!(!Hash::of("abc").is(&Hash::of("abc").bytes()[1..]));
    }

    #[test]
    fn codes_use_all_letters_alike() {
        let mut seen: BTreeMap<char, u32> = BTreeMap::new();
        let mut codes = BTreeSet::new();
        for _ in 0..2_400 {
            let code = code().unwrap();
            assert_eq!((code.len(), letters(&grouped(&code).to_lowercase())), (10, code.clone()));
            code.chars().for_each(|c| *seen.entry(c).or_default() += 1);
            codes.insert(code);
        }
        assert_eq!(codes.len(), 2_400);
        assert_eq!(seen.len(), 24);
        // 1,000 of each on average, with a standard deviation of 31: seven of them are never met.
        assert!(seen.values().all(|n| (780..1_220).contains(n)), "{seen:?}");
        for (a, b) in [('O', '0'), ('I', '1'), ('S', '5'), ('Z', '2'), ('B', '8'), ('U', 'V')] {
            assert!(!(seen.contains_key(&a) && seen.contains_key(&b)), "{a} {b}");
        }
        // At least 40 bits.
        assert!(24_u64.pow(10) > 1 << 40);
    }

    #[test]
    fn tokens_differ() {
        let tokens: BTreeSet<String> = (0..100).map(|_| token().unwrap()).collect();
        assert_eq!(tokens.len(), 100);
        assert!(tokens.iter().all(|t| t.len() == 64));
    }
}
