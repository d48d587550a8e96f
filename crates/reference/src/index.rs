//! The index of names: folded keys in a hash table that is laid out at build time.

use crate::fold::{Key, hash};
use crate::genus::genera;
use crate::name::{NameKind, names};
use crate::taxon::{Candidate, Taxon};

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
    /// Where its key starts in `KEY_TEXT`, and how long it is.
    at: u32,
    len: u8,
    pub(crate) letters: u32,
    /// Where its hits start in `HITS`, and how many there are.
    first: u16,
    hits: u8,
}

impl Entry {
    pub(crate) fn key(&self) -> &'static str {
        let at = self.at as usize;
        KEY_TEXT.get(at..at + usize::from(self.len)).unwrap_or_default()
    }

    pub(crate) fn hits(&self) -> &'static [Hit] {
        let first = usize::from(self.first);
        HITS.get(first..first + usize::from(self.hits)).unwrap_or_default()
    }
}

include!(concat!(env!("OUT_DIR"), "/keys.rs"));

pub(crate) fn entries() -> &'static [Entry] {
    KEYS
}

/// The entry of exactly this key.
pub(crate) fn find(key: &Key) -> Option<&'static Entry> {
    let mask = SLOTS.len() - 1;
    let mut at = hash(key.bytes()) as usize & mask;
    // The table is at most half full, so an empty slot ends the search.
    loop {
        let slot = *SLOTS.get(at)?;
        let entry = KEYS.get(usize::from(slot))?;
        if entry.key().as_bytes() == key.bytes() {
            return Some(entry);
        }
        at = (at + 1) & mask;
    }
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
    use super::{KEYS, SLOTS, find};
    use crate::fold::fold;
    use crate::{genera, names, species, species_names, species_records, works};
    use core::mem::size_of;

    /// The compiled tables: fixed parts of the rows, and the text they point at (without what the
    /// compiler merges, so this is an upper bound).
    fn bytes_of_tables() -> usize {
        let list = |keys: &[&str]| keys.iter().map(|k| size_of::<&str>() + k.len()).sum::<usize>();
        let rows = size_of_val(genera())
            + size_of_val(species())
            + size_of_val(species_records())
            + size_of_val(names())
            + size_of_val(works());
        let of_genera: usize = genera()
            .iter()
            .map(|g| {
                g.name.len()
                    + g.subfamily.len()
                    + g.tribe.len()
                    + g.subtribe.len()
                    + g.notes.len()
                    + list(g.traits.sources.first.unwrap_or_default())
                    + list(g.placement_sources)
            })
            .sum();
        let of_species: usize = species()
            .iter()
            .map(|s| s.epithet.len() + list(s.traits.sources.first.unwrap_or_default()))
            .chain(species_records().iter().map(|r| {
                r.epithet.len()
                    + r.method.len()
                    + r.verbatim_name.len()
                    + r.notes.len()
                    + list(r.sources)
            }))
            .sum();
        let of_names: usize = names()
            .iter()
            .map(|n| {
                n.name.len()
                    + n.abbreviation.len()
                    + n.notes.len()
                    + list(n.sources)
                    + list(n.traits.sources.first.unwrap_or_default())
                    + 2 * n.genera.len()
            })
            .sum();
        let of_works: usize = works().iter().map(|w| w.citation().len() + w.note.len()).sum();
        let of_keys = KEYS
            .iter()
            .map(|e| size_of::<super::Entry>() + e.key().len() + size_of_val(e.hits()))
            .sum::<usize>()
            + size_of_val(&SLOTS)
            + species_names()
                .iter()
                .map(|n| 2 * n.name.len() + n.epithet.len() + 96)
                .sum::<usize>();
        rows + of_genera + of_species + of_names + of_works + of_keys
    }

    #[test]
    fn tables_stay_small() {
        let bytes = bytes_of_tables();
        println!("compiled tables: {} kB", bytes / 1000);
        // A hundredth above what 767 genera, 900 hybrid genera and 2,701 further names of species
        // take: more names are welcome, a wider row is a decision. Each taxon carries its chances
        // and its own evidence, each inferred genus the works of its relatives.
        assert!(bytes < 2_715_000, "{bytes} bytes");
    }

    #[test]
    fn keys_are_sorted_and_found() {
        assert!(KEYS.is_sorted_by(|a, b| a.key() < b.key()));
        for e in KEYS {
            let key = fold(e.key()).unwrap();
            assert_eq!(find(&key).unwrap().key(), e.key());
        }
    }
}
