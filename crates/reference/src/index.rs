//! The index of names: folded keys in a hash table.

use crate::fold::{Key, fold};
use crate::genus::genera;
use crate::name::{NameKind, names};
use crate::packed;
use crate::taxon::{Candidate, Taxon};
use std::ops::Range;
use std::sync::LazyLock;

/// What one folded key can stand for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hit {
    /// An accepted genus.
    Genus(u16),
    /// A name that is not an accepted genus.
    Name(u16),
    /// An abbreviation or spelling (first record) of a hybrid genus (second record). The
    /// same record twice if the abbreviation is in the row of the hybrid genus itself.
    Hybrid(u16, u16),
}

/// One key with its letters (to exclude it early) and what it stands for.
pub(crate) struct Entry {
    /// The parts of `Index.text` and `Index.hits` that are its own.
    key: Range<usize>,
    hits: Range<usize>,
    pub(crate) letters: u32,
}

impl Entry {
    pub(crate) fn key(&self) -> &'static str {
        INDEX.text.get(self.key.clone()).unwrap_or_default()
    }

    pub(crate) fn hits(&self) -> &'static [Hit] {
        INDEX.hits.get(self.hits.clone()).unwrap_or_default()
    }
}

include!(concat!(env!("OUT_DIR"), "/keys.rs"));

struct Index {
    /// Sorted by key.
    entries: Vec<Entry>,
    text: String,
    hits: Vec<Hit>,
    /// Places in `entries` by hash, half full at most, so that a miss ends after a step or two.
    slots: Vec<u16>,
}

const EMPTY: u16 = u16::MAX;

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let mut last = [0; 3];
    let hits = packed::rows(PACKED_HITS, |cells| {
        let kind = cells.number();
        let i = cells.step(&mut last[usize::from(kind)]);
        match (kind, cells.option()) {
            (0, _) => Hit::Genus(i),
            (1, _) => Hit::Name(i),
            (_, hybrid) => Hit::Hybrid(i, hybrid.unwrap_or(i)),
        }
    });
    let (mut entries, mut text): (Vec<Entry>, String) = Default::default();
    for (i, hit) in hits.iter().enumerate() {
        let from = text.len();
        let Some(key) = fold(name(*hit)) else { continue };
        text.push_str(std::str::from_utf8(key.bytes()).unwrap_or_default());
        match entries.last_mut() {
            Some(last) if text[last.key.clone()] == text[from..] => {
                text.truncate(from);
                last.hits.end = i + 1;
            }
            _ => entries.push(Entry {
                letters: letters(&text.as_bytes()[from..]),
                key: from..text.len(),
                hits: i..i + 1,
            }),
        }
    }
    let mut slots = vec![EMPTY; (entries.len() * 2).next_power_of_two()];
    for (i, entry) in entries.iter().enumerate() {
        let mut at = hash(text[entry.key.clone()].as_bytes()) as usize & (slots.len() - 1);
        while slots[at] != EMPTY {
            at = (at + 1) & (slots.len() - 1);
        }
        slots[at] = i as u16;
    }
    Index { entries, text, hits, slots }
});

/// The name by which a hit is found. The build writes the numbers from the same tables.
fn name(hit: Hit) -> &'static str {
    match hit {
        Hit::Genus(i) => genera()[usize::from(i)].name,
        Hit::Hybrid(i, j) if i == j => names()[usize::from(i)].abbreviation,
        Hit::Name(i) | Hit::Hybrid(i, _) => names()[usize::from(i)].name,
    }
}

pub(crate) fn entries() -> &'static [Entry] {
    &INDEX.entries
}

/// The entry of exactly this key.
pub(crate) fn find(key: &Key) -> Option<&'static Entry> {
    let Index { entries, slots, .. } = &*INDEX;
    let mask = slots.len() - 1;
    let mut at = hash(key.bytes()) as usize & mask;
    // The table is at most half full, so an empty slot ends the search.
    loop {
        let entry = entries.get(usize::from(*slots.get(at)?))?;
        if entry.key().as_bytes() == key.bytes() {
            return Some(entry);
        }
        at = (at + 1) & mask;
    }
}

/// FNV-1a, 32 bits: good enough for a few thousand short words.
fn hash(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0x811c_9dc5, |h, &b| (h ^ u32::from(b)).wrapping_mul(0x0100_0193))
}

/// One bit per letter that occurs, to rule words out before they are compared.
pub(crate) fn letters(bytes: &[u8]) -> u32 {
    bytes.iter().fold(0, |m, &b| match b {
        b'a'..=b'z' => m | 1 << (b - b'a'),
        _ => m | 1 << 31,
    })
}

/// The taxa of one hit.
pub(crate) fn taxa(hit: Hit) -> impl Iterator<Item = Candidate> {
    let exact = |taxon, via| Candidate { taxon, via, edits: 0 };
    let name = |i: u16| names().get(usize::from(i));
    let (one, several) = match hit {
        Hit::Genus(i) => (genera().get(usize::from(i)).map(|g| exact(Taxon::Genus(g), None)), None),
        Hit::Name(i) => match name(i) {
            Some(n) if n.kind == NameKind::Nothogenus => {
                (Some(exact(Taxon::Nothogenus(n), None)), None)
            }
            n => (None, n),
        },
        Hit::Hybrid(i, j) => match (name(i), name(j)) {
            (Some(short), Some(n)) if n.kind == NameKind::Nothogenus => {
                (Some(exact(Taxon::Nothogenus(n), Some(short))), None)
            }
            (_, n) => (None, n),
        },
    };
    one.into_iter().chain(
        several
            .into_iter()
            .flat_map(|n| n.genera().map(move |g| (n, g)))
            .map(move |(n, g)| exact(Taxon::Genus(g), Some(n))),
    )
}

pub(crate) fn is_short(hit: Hit) -> bool {
    match hit {
        Hit::Hybrid(i, j) if i == j => true,
        Hit::Name(i) | Hit::Hybrid(i, _) => {
            names().get(usize::from(i)).is_some_and(|n| n.kind == NameKind::Abbreviation)
        }
        Hit::Genus(_) => false,
    }
}

/// Whether a key is only ever an abbreviation, too short to be a misspelling's target.
pub(crate) fn only_short(hits: &[Hit]) -> bool {
    hits.iter().all(|h| is_short(*h))
}

#[cfg(test)]
mod tests {
    use super::{entries, find};
    use crate::fold::fold;

    #[test]
    fn keys_are_sorted_and_found() {
        assert!(entries().is_sorted_by(|a, b| a.key() < b.key()));
        for e in entries() {
            let key = fold(e.key()).unwrap();
            assert_eq!(find(&key).unwrap().key(), e.key());
        }
    }
}
