//! What a name that is not in the tables was probably meant to be.

use crate::fold::Key;
use crate::genus::Genus;
use crate::index::{entries, letters, only_short, taxa};
use crate::osa;
use crate::query::Epithet;
use crate::species::Species;
use crate::taxon::Candidate;

/// Most candidates to show.
const SHOWN: usize = 6;

/// The most edits a generic name of this length may be away: short words have too many
/// neighbours.
const fn limit(len: usize) -> u8 {
    match len {
        0..=3 => 0,
        4..=5 => 1,
        _ => 2,
    }
}

/// The best reading of a misspelt generic name, if one is clearly best, and the others.
pub(crate) struct Ranked {
    pub(crate) best: Option<Candidate>,
    pub(crate) others: Vec<Candidate>,
}

/// Ordered so that the least is the likeliest.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    edits: u8,
    other_initial: bool,
    /// Older names come after accepted ones.
    older_name: bool,
    /// Letters from the start that differ: a slip is likelier towards the end.
    unlike_start: usize,
}

pub(crate) fn nearest(key: &Key) -> Ranked {
    let word = key.bytes();
    let most = limit(word.len());
    let mask = letters(word);
    let mut all: Vec<(Rank, Candidate)> = Vec::new();
    for entry in entries() {
        let name = entry.key().as_bytes();
        let too_far = name.len().abs_diff(word.len()) > usize::from(most)
            // Each edit brings in or takes away at most one kind of letter.
            || (mask & !entry.letters).count_ones() > u32::from(most)
            || (entry.letters & !mask).count_ones() > u32::from(most);
        if too_far || most == 0 {
            continue;
        }
        // The shorter of the two words sets the limit, so that short names are not swamped.
        let Some(edits) = osa::within(word, name, most.min(limit(name.len()).max(1))) else {
            continue;
        };
        if only_short(entry.hits()) || name.len() < 3 {
            continue;
        }
        let start = word.iter().zip(name).take_while(|(a, b)| a == b).count();
        for c in entry.hits().iter().flat_map(|h| taxa(*h)) {
            let rank = Rank {
                edits,
                other_initial: word.first() != name.first(),
                older_name: c.via.is_some(),
                unlike_start: word.len() - start.min(word.len()),
            };
            let candidate = Candidate { edits, ..c };
            match all.iter_mut().find(|(_, o)| o.taxon == c.taxon) {
                Some(known) if known.0 > rank => *known = (rank, candidate),
                Some(_) => {}
                None => all.push((rank, candidate)),
            }
        }
    }
    all.sort_by_key(|(rank, _)| *rank);
    all.truncate(SHOWN);
    let clear = match all.as_slice() {
        [(a, _)] => is_confident(a, word.len()),
        [(a, _), (b, _), ..] => a < b && is_confident(a, word.len()),
        [] => false,
    };
    let mut others: Vec<Candidate> = all.into_iter().map(|(_, c)| c).collect();
    let best = clear.then(|| others.remove(0));
    Ranked { best, others }
}

/// Whether a reading is close enough to be taken. Any other is offered: a word with another initial
/// or with two changes in a short stem is more likely another name than a slip.
const fn is_confident(rank: &Rank, len: usize) -> bool {
    !rank.other_initial && (rank.edits <= 1 || len >= 9)
}

/// The species of a genus with exactly this epithet; hyphens and the hybrid sign do not count. A
/// species that was not determined has no epithet to be asked for.
pub(crate) fn exact_species(genus: &Genus, epithet: &Key) -> Option<&'static Species> {
    genus.species().iter().filter(|s| !s.epithet.starts_with("sp.")).find(|s| {
        s.epithet.bytes().filter(u8::is_ascii_lowercase).eq(epithet.bytes().iter().copied())
    })
}

/// The species of a genus that an epithet names, and whether the epithet was corrected. After a
/// change of genus (`moved`) only the ending may differ: an unlike epithet is another species.
pub(crate) fn species_of(
    genus: &Genus,
    epithet: &Epithet<'_>,
    moved: bool,
) -> Option<(&'static Species, bool)> {
    let determined = || genus.species().iter().filter(|s| !s.epithet.starts_with("sp."));
    let key = epithet.key.bytes();
    if let Some(s) = exact_species(genus, &epithet.key) {
        // A capitalised epithet may be a grex of the same name: say that it was read as a species.
        return Some((s, !epithet.small));
    }
    if !epithet.small {
        return None;
    }
    // The ending changes when a species moves to a genus of another gender.
    let mut same_stem =
        determined().filter(|s| stem(s.epithet.as_bytes()) == stem(key) && stem(key).len() >= 3);
    if let (Some(s), None) = (same_stem.next(), same_stem.next()) {
        return Some((s, true));
    }
    if moved {
        return None;
    }
    let most = match key.len() {
        0..=5 => 0,
        6..=9 => 1,
        _ => 2,
    };
    let mut near = determined()
        .filter_map(|s| Some((osa::within(key, s.epithet.as_bytes(), most)?, s)))
        .collect::<Vec<_>>();
    near.sort_by_key(|(d, _)| *d);
    match near.as_slice() {
        [(_, s)] => Some((*s, true)),
        [(a, s), (b, _), ..] if a < b => Some((*s, true)),
        _ => None,
    }
}

/// An epithet without the ending that follows the gender of the genus.
fn stem(epithet: &[u8]) -> &[u8] {
    ["us", "um", "is", "os", "on", "er", "era", "erum", "a", "e"]
        .iter()
        .filter_map(|end| epithet.strip_suffix(end.as_bytes()))
        .min_by_key(|s| s.len())
        .unwrap_or(epithet)
}

#[cfg(test)]
mod tests {
    use super::stem;

    #[test]
    fn gender_endings_share_a_stem() {
        for (a, b) in [("falcata", "falcatum"), ("coccinea", "coccineus"), ("gracile", "gracilis")]
        {
            assert_eq!(stem(a.as_bytes()), stem(b.as_bytes()));
        }
        assert_ne!(stem(b"alba"), stem(b"alata"));
    }
}
