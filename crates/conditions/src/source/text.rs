//! From bytes to text.

use crate::error::in_data;
use crate::map::Encoding;
use guardcell::Error;

/// Decodes a file; a byte order mark is omitted.
pub(crate) fn decode(bytes: &[u8], encoding: Encoding, place: &str) -> Result<String, Error> {
    match encoding {
        Encoding::Utf8 => match std::str::from_utf8(bytes) {
            Ok(text) => Ok(text.strip_prefix('\u{feff}').unwrap_or(text).to_owned()),
            Err(e) => {
                let line = bytes.iter().take(e.valid_up_to()).filter(|b| **b == b'\n').count() + 1;
                Err(in_data(
                    place,
                    "the text is not UTF-8",
                    "state `encoding = \"iso-8859-1\"` or `\"utf-16\"` in the map, or save the file \
                     as UTF-8",
                )
                .on_line(line as u64))
            }
        },
        // Latin-1 is the first 256 characters of Unicode.
        Encoding::Latin1 => Ok(bytes.iter().map(|b| char::from(*b)).collect()),
        Encoding::Utf16 => utf16(bytes).ok_or_else(|| {
            in_data(
                place,
                "the text is not UTF-16",
                "omit `encoding` from the map, or state the right one",
            )
        }),
    }
}

fn utf16(bytes: &[u8]) -> Option<String> {
    let (big, bytes) = match bytes {
        [0xfe, 0xff, rest @ ..] => (true, rest),
        [0xff, 0xfe, rest @ ..] => (false, rest),
        rest => (false, rest),
    };
    let units = bytes.chunks(2).map(|pair| match pair {
        [a, b] if big => Some(u16::from_be_bytes([*a, *b])),
        [a, b] => Some(u16::from_le_bytes([*a, *b])),
        _ => None,
    });
    String::from_utf16(&units.collect::<Option<Vec<u16>>>()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_three_encodings() {
        let says = |bytes: &[u8], e| decode(bytes, e, "x.csv");
        assert_eq!(says("\u{feff}T (°F)".as_bytes(), Encoding::Utf8).unwrap(), "T (°F)");
        assert_eq!(says(b"T (\xb0F)", Encoding::Latin1).unwrap(), "T (°F)");
        assert_eq!(says(b"\xff\xfeT\0\xb0\0", Encoding::Utf16).unwrap(), "T°");
        assert_eq!(says(b"\xfe\xff\0T\0\xb0", Encoding::Utf16).unwrap(), "T°");
        assert!(says(b"\xff\xfeT", Encoding::Utf16).is_err());
        let error = says(b"a\nb\xb0", Encoding::Utf8).unwrap_err().to_string();
        assert!(error.starts_with("x.csv:2:") && error.contains("iso-8859-1"), "{error}");
    }
}
