//! From a name as people write it to a taxon of the tables.

use crate::fold::{Key, hash};
use crate::genus::{Genus, genera};
use crate::name::{NameKind, NameRecord, names};
use crate::query::{Epithet, Query};
use crate::species::{Species, species};
use crate::traits::{Grade, SourceKeys, Trait};

/// What one folded key can stand for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hit {
    /// An accepted genus.
    Genus(u16),
    /// A name that is not an accepted genus.
    Name(u16),
    /// An abbreviation or spelling (first record) of a hybrid genus (second record). Twice the
    /// same record where the abbreviation stands in the row of the hybrid genus itself.
    Hybrid(u16, u16),
}

/// One key with its letters (to rule it out early) and what it stands for.
pub(crate) struct Entry {
    /// Where its key stands in `KEY_TEXT`, and how long it is.
    at: u32,
    len: u8,
    pub(crate) letters: u32,
    /// Where its hits stand in `HITS`, and how many there are.
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

/// A taxon the tables know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Taxon {
    /// An accepted genus.
    Genus(&'static Genus),
    /// A species that has records of its own.
    Species(&'static Species),
    /// A hybrid genus.
    Nothogenus(&'static NameRecord),
    /// A cross of two genera written with a hybrid sign.
    Cross(&'static Genus, &'static Genus),
}

impl Taxon {
    /// The trait of the taxon itself.
    #[must_use]
    pub fn traits(self) -> Trait {
        match self {
            Self::Genus(g) => g.traits,
            Self::Species(s) => s.traits,
            Self::Nothogenus(n) => n.traits,
            Self::Cross(a, b) => Trait::cross(a.traits, b.traits),
        }
    }

    /// The accepted name.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Genus(g) => g.name.to_owned(),
            Self::Species(s) => format!("{} {}", s.genus().name, s.epithet),
            Self::Nothogenus(n) => format!("×{}", n.name),
            Self::Cross(a, b) => format!("{} × {}", a.name, b.name),
        }
    }

    fn order(self) -> u8 {
        match self {
            Self::Genus(_) | Self::Species(_) => 0,
            Self::Nothogenus(_) => 1,
            Self::Cross(..) => 2,
        }
    }
}

/// A taxon a query may mean, and how far the query was from its name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// The taxon.
    pub taxon: Taxon,
    /// The synonym, spelling or abbreviation that led to it.
    pub via: Option<&'static NameRecord>,
    /// Letters added, dropped, changed or swapped in the generic name.
    pub edits: u8,
}

/// What a query was taken for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Found<'q> {
    /// The taxon.
    pub taxon: Taxon,
    /// The synonym, spelling or abbreviation that led to it.
    pub via: Option<&'static NameRecord>,
    /// Letters added, dropped, changed or swapped in the generic name; 0 for an exact hit.
    pub edits: u8,
    /// Whether the epithet was changed to that of the species found.
    pub epithet_mended: bool,
    /// The epithet as written, where the tables have no record of such a species and the genus
    /// answers for it.
    pub epithet: Option<&'q str>,
    /// Whether the query says that it is a hybrid.
    pub hybrid: bool,
}

impl Found<'_> {
    /// Whether the answer rests on a guess about the spelling, and on which.
    #[must_use]
    pub fn took_it_for(&self) -> Option<String> {
        let misspelt = self.via.is_some_and(|n| n.kind == NameKind::Spelling);
        (self.edits > 0 || self.epithet_mended || misspelt).then(|| match self.via {
            Some(n) if n.kind == NameKind::Synonym && self.edits > 0 => {
                format!("{} (now {})", n.name, self.taxon.name())
            }
            _ => self.taxon.name(),
        })
    }

    /// The trait to act on. A species without records of its own is answered for by its genus,
    /// graded `inferred` at best.
    #[must_use]
    pub fn traits(&self) -> Trait {
        let own = self.taxon.traits();
        match self.taxon {
            // Its leaf may be known where its pathway is not.
            Taxon::Species(s) if own.grade == Grade::Unknown => {
                Trait { leaf: own.leaf, leaf_grade: own.leaf_grade, ..of_genus(s.genus().traits) }
            }
            Taxon::Genus(_) if self.epithet.is_some() || self.hybrid => of_genus(own),
            _ => own,
        }
    }
}

/// What a genus says of one of its species.
fn of_genus(t: Trait) -> Trait {
    Trait {
        grade: t.grade.min(Grade::Inferred),
        leaf_grade: t.leaf_grade.min(Grade::Inferred),
        ..t
    }
}

/// The answer to a query: a taxon, several candidates, or nothing.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolution<'q> {
    /// The query as given.
    pub query: &'q str,
    /// What it was taken for, if that is clear.
    pub found: Option<Found<'q>>,
    /// Where it is not clear: what it may mean, likeliest first. Beside a misspelt name that was
    /// found, what else it may have meant.
    pub candidates: Vec<Candidate>,
}

impl Resolution<'_> {
    /// The trait to act on. For an ambiguous name that is exact (a divided genus, an abbreviation
    /// used twice) what its candidates share; for a misspelt ambiguous name or an unknown one,
    /// [`Trait::UNKNOWN`].
    ///
    /// ```
    /// use guardcell_reference::{Trait, resolve};
    /// assert_eq!(resolve("qqqqqqqq").traits(), Trait::UNKNOWN);
    /// ```
    #[must_use]
    pub fn traits(&self) -> Trait {
        if let Some(found) = &self.found {
            return found.traits();
        }
        let mut exact = self.candidates.iter().filter(|c| c.edits == 0);
        let Some(first) = exact.next() else {
            return Trait::UNKNOWN;
        };
        let shared =
            exact.fold(of_genus(first.taxon.traits()), |t, c| Trait::cross(t, c.taxon.traits()));
        Trait {
            sources: SourceKeys::NONE, // those of the candidates
            cam_share: None,
            opens_peak: None,
            ..shared
        }
    }

    /// Whether the name may mean several taxa.
    #[must_use]
    pub fn is_ambiguous(&self) -> bool {
        self.found.is_none() && !self.candidates.is_empty()
    }

    /// Whether the name is not known at all.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.found.is_none() && self.candidates.is_empty()
    }

    fn unknown(query: &str) -> Resolution<'_> {
        Resolution { query, found: None, candidates: Vec::new() }
    }
}

/// Finds what a plant name means: an accepted genus, a species, a synonym, a hybrid genus, an
/// abbreviation or a misspelling, written with or without capitals, accents, hybrid sign, epithet
/// and cultivar.
///
/// Total: any text gives an answer. A guess about the spelling is always flagged
/// ([`Found::took_it_for`]), an ambiguous name gives candidates, and a name that is not known
/// gives neither. Nothing is allocated for an exact hit.
///
/// ```
/// use guardcell_reference::resolve;
/// for g in guardcell_reference::genera() {
///     let found = resolve(g.name).found.unwrap();
///     assert_eq!(found.taxon.name(), g.name);
///     assert!(found.took_it_for().is_none());
/// }
/// ```
#[must_use]
pub fn resolve(query: &str) -> Resolution<'_> {
    let Some(parts) = Query::parse(query) else {
        return Resolution::unknown(query);
    };
    if let Some(other) = parts.other_parent
        && let Some(cross) = cross(query, &parts, other)
    {
        return cross;
    }
    one(query, &parts)
}

/// A name without a second parent.
fn one<'q>(query: &'q str, parts: &Query<'q>) -> Resolution<'q> {
    let mut answer = Resolution::unknown(query);
    let exact = lookup(&parts.genus).map(|e| choose(e.hits(), parts)).unwrap_or_default();
    // A name as printed in a work before the species was moved to another genus.
    if !matches!(exact, Choice::One(Candidate { taxon: Taxon::Genus(_), via: None, .. }))
        && let Some(s) = parts.epithet.and_then(|e| printed(&parts.genus, &e))
    {
        let via = match exact {
            Choice::One(c) => c.via,
            Choice::Several(ref all) => all.iter().find_map(|c| c.via),
            Choice::None => None,
        };
        answer.found = Some(Found {
            taxon: Taxon::Species(s),
            via,
            edits: 0,
            epithet_mended: false,
            epithet: None,
            hybrid: parts.hybrid,
        });
        return answer;
    }
    match exact {
        Choice::One(c) => answer.found = Some(place(c, parts)),
        Choice::Several(all) => {
            // The epithet may tell which part of a divided genus is meant.
            let mut with = all
                .iter()
                .map(|c| place(*c, parts))
                .filter(|f| matches!(f.taxon, Taxon::Species(_)) && !f.epithet_mended);
            match (with.next(), with.next()) {
                (Some(only), None) => answer.found = Some(only),
                _ => answer.candidates = all,
            }
        }
        Choice::None => {
            let ranked = crate::misspelling::nearest(&parts.genus);
            answer.found = ranked.best.map(|c| place(c, parts));
            answer.candidates = ranked.others;
        }
    }
    answer
}

/// A cross of two genera written out. `None` if what follows the sign is an epithet.
fn cross<'q>(query: &'q str, left: &Query<'q>, other: &'q str) -> Option<Resolution<'q>> {
    let right = Query::parse(other)?;
    let is_name = lookup(&right.genus).is_some() || other.starts_with(char::is_uppercase);
    let (a, b) = (one(query, left), one(query, &right));
    if !is_name {
        // `Cattleya × hardyana`, `Phalaenopsis amabilis × equestris`: one genus.
        return Some(one(
            query,
            &Query { hybrid: true, epithet: left.epithet.or(right_as_epithet(other)), ..*left },
        ));
    }
    let genus = |f: &Found<'_>| match f.taxon {
        Taxon::Genus(g) => Some(g),
        Taxon::Species(s) => Some(s.genus()),
        Taxon::Nothogenus(_) | Taxon::Cross(..) => None,
    };
    if let (Some(fa), Some(fb)) = (a.found, b.found)
        && let (Some(ga), Some(gb)) = (genus(&fa), genus(&fb))
        && right.other_parent.is_none()
    {
        let taxon = if ga.name == gb.name { Taxon::Genus(ga) } else { Taxon::Cross(ga, gb) };
        return Some(Resolution {
            query,
            found: Some(Found {
                taxon,
                via: None,
                edits: fa.edits.max(fb.edits),
                epithet_mended: false,
                epithet: None,
                hybrid: true,
            }),
            candidates: Vec::new(),
        });
    }
    // A parent is a hybrid, ambiguous or unknown: show what could be made of both sides.
    let mut answer = Resolution::unknown(query);
    for side in [a, b] {
        answer.candidates.extend(side.found.map(|f| Candidate {
            taxon: f.taxon,
            via: f.via,
            edits: f.edits,
        }));
        answer.candidates.extend(side.candidates);
    }
    Some(answer)
}

fn right_as_epithet(text: &str) -> Option<Epithet<'_>> {
    let word = text.split_whitespace().next()?;
    Some(Epithet { word, key: crate::fold::fold(word)?, small: true })
}

/// The entry of exactly this key.
fn lookup(key: &Key) -> Option<&'static Entry> {
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

/// The taxa a key may stand for.
#[derive(Default)]
pub(crate) enum Choice {
    #[default]
    None,
    One(Candidate),
    Several(Vec<Candidate>),
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

fn is_short(hit: Hit) -> bool {
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

/// Chooses among the meanings of a key: with a dot the abbreviation, without one the name.
fn choose(hits: &'static [Hit], parts: &Query<'_>) -> Choice {
    let first = |short: bool| {
        let mut all = hits.iter().filter(move |h| is_short(**h) == short).flat_map(|h| taxa(*h));
        let Some(one) = all.next() else {
            return Choice::None;
        };
        match all.next() {
            None => Choice::One(one),
            Some(two) => several(one, two, all),
        }
    };
    match first(parts.dotted) {
        Choice::None => first(!parts.dotted),
        some => some,
    }
}

fn several(one: Candidate, two: Candidate, more: impl Iterator<Item = Candidate>) -> Choice {
    let mut all = vec![one];
    for c in core::iter::once(two).chain(more) {
        if !all.iter().any(|o| o.taxon == c.taxon) {
            all.push(c);
        }
    }
    // An accepted genus wins over an older use of the same name.
    if let Some(i) = all.iter().position(|c| c.via.is_none() && matches!(c.taxon, Taxon::Genus(_)))
    {
        return Choice::One(all.swap_remove(i));
    }
    match all.as_slice() {
        [only] => Choice::One(*only),
        _ => {
            all.sort_by_key(|c| c.taxon.order());
            Choice::Several(all)
        }
    }
}

/// Puts the epithet to a genus that was found.
fn place<'q>(c: Candidate, parts: &Query<'q>) -> Found<'q> {
    let mut found = Found {
        taxon: c.taxon,
        via: c.via,
        edits: c.edits,
        epithet_mended: false,
        epithet: None,
        hybrid: parts.hybrid,
    };
    let (Taxon::Genus(genus), Some(epithet)) = (c.taxon, parts.epithet) else {
        return found;
    };
    match crate::misspelling::species_of(genus, &epithet) {
        Some((s, mended)) => {
            found.taxon = Taxon::Species(s);
            found.epithet_mended = mended;
        }
        None => found.epithet = Some(epithet.word),
    }
    found
}

/// The species printed under this name in a work.
fn printed(genus: &Key, epithet: &Epithet<'_>) -> Option<&'static Species> {
    let key = genus.join(&epithet.key)?;
    let i = PRINTED.binary_search_by(|(k, _)| k.as_bytes().cmp(key.bytes())).ok()?;
    let (_, s) = PRINTED.get(i)?;
    species().get(usize::from(*s))
}

#[cfg(test)]
mod tests {
    use super::{KEYS, PRINTED, SLOTS, resolve};
    use crate::{genera, names, species, species_records, works};
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
            + PRINTED.iter().map(|(k, _)| k.len() + 24).sum::<usize>();
        rows + of_genera + of_species + of_names + of_works + of_keys
    }

    #[test]
    fn tables_add_less_than_two_megabytes() {
        let bytes = bytes_of_tables();
        println!("compiled tables: {} kB", bytes / 1000);
        assert!(bytes < 2_000_000, "{bytes} bytes");
    }

    #[test]
    fn keys_are_sorted_and_found() {
        assert!(KEYS.is_sorted_by(|a, b| a.key() < b.key()));
        assert!(PRINTED.is_sorted_by(|a, b| a.0 < b.0));
        for e in KEYS {
            let key = crate::fold::fold(e.key()).unwrap();
            assert_eq!(super::lookup(&key).unwrap().key(), e.key());
        }
    }

    #[test]
    fn case_accents_and_blanks_do_not_matter() {
        for (written, plain) in [
            ("CÁTTLEYA", "Cattleya"),
            ("  cattleya\tlabiata ", "Cattleya labiata"),
            ("Cattle\u{301}ya", "Cattleya"),
            ("Cattleya_labiata", "Cattleya labiata"),
            ("Cattleya labiata Lindl.", "Cattleya labiata"),
            ("Cattleya labiata 'Fern Hollow'", "Cattleya labiata"),
        ] {
            let (a, b) = (resolve(written), resolve(plain));
            assert_eq!(
                a.found.map(|f| f.taxon.name()),
                b.found.map(|f| f.taxon.name()),
                "{written}"
            );
            assert!(a.found.unwrap().took_it_for().is_none(), "{written}");
        }
    }
}
