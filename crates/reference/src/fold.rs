//! Folding of a word to the key it is looked up by: lower case, without diacritics.
//!
//! The build script includes this file as well, so that keys and queries are folded alike.

/// The longest key, in bytes. No generic name comes near it.
pub(crate) const LONGEST: usize = 64;

/// A folded word, on the stack.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) struct Key {
    bytes: [u8; LONGEST],
    len: usize,
}

impl Key {
    const EMPTY: Self = Self { bytes: [0; LONGEST], len: 0 };

    pub(crate) fn bytes(&self) -> &[u8] {
        self.bytes.get(..self.len).unwrap_or_default()
    }

    fn push(&mut self, byte: u8) -> Option<()> {
        *self.bytes.get_mut(self.len)? = byte;
        self.len += 1;
        Some(())
    }

    /// This key without a final `s`, if it has one.
    #[allow(dead_code)] // the build script has no use for it
    pub(crate) fn singular(mut self) -> Option<Self> {
        let shorter = self.bytes().strip_suffix(b"s")?.len();
        self.len = shorter;
        Some(self)
    }

    /// This key, a space, and another.
    pub(crate) fn join(mut self, other: &Self) -> Option<Self> {
        self.push(b' ')?;
        for &b in other.bytes() {
            self.push(b)?;
        }
        Some(self)
    }
}

/// Folds one word. `None` if it holds no letter, a letter outside Latin script, or is too long.
pub(crate) fn fold(word: &str) -> Option<Key> {
    let mut key = Key::EMPTY;
    for c in word.chars() {
        if c.is_ascii_alphanumeric() {
            key.push(c.to_ascii_lowercase() as u8)?;
        } else if c.is_alphabetic() {
            for b in latin(c)?.bytes() {
                key.push(b)?;
            }
        }
        // Hyphens, dots, hybrid signs, quotes and combining accents leave no trace.
    }
    key.bytes().iter().any(u8::is_ascii_alphabetic).then_some(key)
}

/// The folded key of a binomial. `None` if it is not one, or the species was not determined.
pub(crate) fn binomial(name: &str) -> Option<Key> {
    let mut words = name.split_whitespace().filter(|w| *w != "x" && *w != "×");
    let (genus, epithet) = (words.next()?, words.next()?);
    if matches!(epithet.trim_end_matches('.'), "sp" | "cf" | "aff") {
        return None;
    }
    fold(genus)?.join(&fold(epithet)?)
}

/// The plain letters of an accented Latin letter.
fn latin(c: char) -> Option<&'static str> {
    Some(match c {
        'À'..='Å' | 'à'..='å' | 'Ā'..='ą' => "a",
        'Æ' | 'æ' => "ae",
        'Ç' | 'ç' | 'Ć'..='č' => "c",
        'Ð' | 'ð' | 'Ď'..='đ' => "d",
        'È'..='Ë' | 'è'..='ë' | 'Ē'..='ě' => "e",
        'Ĝ'..='ģ' => "g",
        'Ĥ'..='ħ' => "h",
        'Ì'..='Ï' | 'ì'..='ï' | 'Ĩ'..='ı' => "i",
        'Ĵ' | 'ĵ' => "j",
        'Ķ'..='ĸ' => "k",
        'Ĺ'..='ł' => "l",
        'Ñ' | 'ñ' | 'Ń'..='ŋ' => "n",
        'Ò'..='Ö' | 'Ø' | 'ò'..='ö' | 'ø' | 'Ō'..='ő' => "o",
        'Œ' | 'œ' => "oe",
        'Ŕ'..='ř' => "r",
        'ß' => "ss",
        'Ś'..='š' => "s",
        'Ţ'..='ŧ' => "t",
        'Ù'..='Ü' | 'ù'..='ü' | 'Ũ'..='ų' => "u",
        'Ŵ' | 'ŵ' => "w",
        'Ý' | 'ý' | 'ÿ' | 'Ŷ' | 'ŷ' | 'Ÿ' => "y",
        'Ź'..='ž' => "z",
        _ => return None,
    })
}
