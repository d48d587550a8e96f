//! Changes to a text.

use crate::rng::Rng;

/// Pieces that parsers stumble over.
const PIECES: [&str; 34] = [
    "",
    "0",
    "-",
    "1e400",
    "5e-324",
    "NaN",
    "inf",
    ",",
    ";",
    ".",
    "\"",
    "'",
    "\n",
    "\r\n",
    "\t",
    " ",
    "\u{feff}",
    "\u{0}",
    "\u{1b}[2J",
    "\u{202e}",
    "é",
    "µ",
    "²",
    "ppm",
    "mg/L",
    "°dH",
    "N-P-K",
    "{",
    "[",
    "=",
    "#",
    "/",
    "2026-02-30",
    "99999999999999999999",
];

/// A text with one to three changes.
pub fn changed(rng: &mut Rng, text: &str) -> String {
    let mut out: Vec<char> = text.chars().collect();
    for _ in 0..1 + rng.below(3) {
        let at = rng.below(out.len() + 1);
        match rng.below(6) {
            0 | 1 => {
                let piece: Vec<char> = rng.one(&PIECES).chars().collect();
                out.splice(at..at, piece);
            }
            2 if at < out.len() => {
                out.remove(at);
            }
            3 if at < out.len() => {
                let c = char::from_u32(out[at] as u32 ^ (1 << rng.below(8)));
                out[at] = c.unwrap_or('?');
            }
            4 => {
                let to = (at + 1 + rng.below(40)).min(out.len());
                let part = out[at..to].to_vec();
                out.splice(at..at, part);
            }
            _ => {
                let to = (at + 1 + rng.below(20)).min(out.len());
                out.drain(at..to);
            }
        }
    }
    out.truncate(200_000);
    out.into_iter().collect()
}
