//! From a name as people write it to a taxon of the tables.

use crate::broad;
use crate::fold::fold;
use crate::genus::{Genus, genera};
use crate::index::{Hit, find, is_short, taxa};
use crate::misspelling::{exact_species, nearest, species_of};
use crate::name::{NameKind, NameRecord};
use crate::other_plant::{self, OtherPlant};
use crate::query::{Epithet, Query};
use crate::species_name::{self, SpeciesName};
use crate::taxon::{Candidate, Taxon};
use crate::traits::{Grade, SourceKeys, Trait};

/// What a query was taken for.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Found<'q> {
    /// The taxon.
    pub taxon: Taxon,
    /// The synonym, spelling or abbreviation that led to it.
    pub via: Option<&'static NameRecord>,
    /// The older name of the species that led to it.
    pub synonym: Option<&'static SpeciesName>,
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
    /// The name that a query with another spelling was read as; `None` if the spelling is exact.
    #[must_use]
    pub fn corrected_to(&self) -> Option<String> {
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
#[non_exhaustive]
pub struct Resolution<'q> {
    /// The query as given.
    pub query: &'q str,
    /// What it was taken for, if that is clear.
    pub found: Option<Found<'q>>,
    /// Where it is not clear: what it may mean, likeliest first. Beside a misspelt name that was
    /// found, what else it may have meant.
    pub candidates: Vec<Candidate>,
    /// A plant of another family, if the name is one.
    pub other_plant: Option<OtherPlant>,
}

impl Resolution<'_> {
    /// The trait to act on. For an ambiguous name that is exact (a divided genus, an abbreviation
    /// used twice) what its candidates share; for a misspelt ambiguous name or an unknown one,
    /// [`Trait::UNKNOWN`].
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::{Trait, resolve};
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
        Resolution { query, found: None, candidates: Vec::new(), other_plant: None }
    }
}

/// Finds what a plant name means: an accepted genus, a species, a synonym, a hybrid genus, an
/// abbreviation or a misspelling, written with or without capitals, accents, hybrid sign, epithet
/// and cultivar.
///
/// Total: any text gives an answer. A guess about the spelling is always flagged
/// ([`Found::corrected_to`]), an ambiguous name gives candidates, and a name that is not known
/// gives neither. Nothing is allocated for an exact hit.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::resolve;
/// for g in guardcell::reference::genera() {
///     let found = resolve(g.name).found.unwrap();
///     assert_eq!(found.taxon.name(), g.name);
///     assert!(found.corrected_to().is_none());
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

/// Whether the genus of a name is found without comparing spellings.
pub(crate) fn is_listed(query: &str) -> bool {
    Query::parse(query)
        .is_some_and(|parts| parts.other_parent.is_none() && find(&parts.genus).is_some())
}

/// A name without a second parent.
fn one<'q>(query: &'q str, parts: &Query<'q>) -> Resolution<'q> {
    let mut answer = Resolution::unknown(query);
    let entry = find(&parts.genus).or_else(|| find(&parts.genus.singular()?));
    let exact = entry.map(|e| choose(e.hits(), parts)).unwrap_or_default();
    if let Some(found) = by_species_name(&exact, parts) {
        answer.found = Some(found);
        return answer;
    }
    match exact {
        Choice::One(Candidate { taxon: Taxon::Genus(g), via: None, .. })
            if parts.broad && parts.epithet.is_none() =>
        {
            match broad::parts(g).as_slice() {
                [only] => answer.found = Some(place(of_genus_alone(only), parts)),
                all => answer.candidates = all.iter().map(|g| of_genus_alone(g)).collect(),
            }
        }
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
        Choice::None => not_in_the_index(&mut answer, parts),
    }
    answer
}

fn of_genus_alone(genus: &'static Genus) -> Candidate {
    Candidate { taxon: Taxon::Genus(genus), via: None, edits: 0 }
}

/// A species under a name other than its accepted one, such as that printed in a work before it
/// was moved to another genus. A record under the name as written has precedence.
fn by_species_name<'q>(exact: &Choice, parts: &Query<'q>) -> Option<Found<'q>> {
    let epithet = parts.epithet?;
    let candidates: &[Candidate] = match exact {
        Choice::None => &[],
        Choice::One(c) => std::slice::from_ref(c),
        Choice::Several(all) => all,
    };
    let genus = |c: &Candidate| match c.taxon {
        Taxon::Genus(g) => Some(g),
        _ => None,
    };
    let as_written = |c: &Candidate| c.via.is_none_or(|n| n.kind != NameKind::Synonym);
    let genera = || candidates.iter().filter(|c| as_written(c)).filter_map(genus);
    if genera().any(|g| exact_species(g, &epithet.key).is_some()) {
        return None;
    }
    // As written, or with an abbreviated or misspelt genus in full.
    let name = species_name::find(&parts.genus, &epithet.key)
        .or_else(|| genera().find_map(|g| species_name::find(&fold(g.name)?, &epithet.key)))?;
    let (taxon, epithet) = match name.species() {
        Some(s) => (Taxon::Species(s), None),
        None => (Taxon::Genus(name.genus()), Some(name.epithet)),
    };
    Some(Found {
        taxon,
        via: None,
        synonym: Some(name),
        edits: 0,
        epithet_mended: false,
        epithet,
        hybrid: parts.hybrid,
    })
}

/// A generic name that is not a key of the index: another plant, a single letter, or a misspelling.
fn not_in_the_index<'q>(answer: &mut Resolution<'q>, parts: &Query<'q>) {
    answer.other_plant = other_plant::find(&parts.genus);
    if answer.other_plant.is_some() {
        return;
    }
    if let (true, Some(epithet)) = (parts.dotted, parts.epithet) {
        // `P. amabilis`: the species of that name in any genus with these initials.
        let starts = |g: &&Genus| {
            fold(g.name).is_some_and(|name| name.bytes().starts_with(parts.genus.bytes()))
        };
        let candidates: Vec<Candidate> = genera()
            .iter()
            .filter(starts)
            .filter_map(|g| exact_species(g, &epithet.key))
            .map(|s| Candidate { taxon: Taxon::Species(s), via: None, edits: 0 })
            .collect();
        match candidates.as_slice() {
            [] => {}
            [only] => {
                answer.found = Some(Found { epithet_mended: true, ..place(*only, parts) });
                return;
            }
            _ => {
                answer.candidates = candidates;
                return;
            }
        }
    }
    let ranked = nearest(&parts.genus);
    answer.found = ranked.best.map(|c| place(c, parts));
    answer.candidates = ranked.others;
}

/// A cross of two genera written out. `None` if what follows the sign is an epithet.
fn cross<'q>(query: &'q str, left: &Query<'q>, other: &'q str) -> Option<Resolution<'q>> {
    let right = Query::parse(other)?;
    let is_name = find(&right.genus).is_some() || other.starts_with(char::is_uppercase);
    let (a, b) = (one(query, left), one(query, &right));
    if !is_name {
        // `Cattleya × hardyana` is a species name; `Phalaenopsis amabilis × equestris` is a cross
        // within the genus, for which neither parent answers.
        let epithet = if left.epithet.is_some() { None } else { right_as_epithet(other) };
        return Some(one(query, &Query { hybrid: true, epithet, ..*left }));
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
                synonym: None,
                edits: fa.edits.max(fb.edits),
                epithet_mended: false,
                epithet: None,
                hybrid: true,
            }),
            candidates: Vec::new(),
            other_plant: None,
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

/// The taxa a key may stand for.
#[derive(Default)]
pub(crate) enum Choice {
    #[default]
    None,
    One(Candidate),
    Several(Vec<Candidate>),
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
        synonym: None,
        edits: c.edits,
        epithet_mended: false,
        epithet: None,
        hybrid: parts.hybrid,
    };
    let (Taxon::Genus(genus), Some(epithet)) = (c.taxon, parts.epithet) else {
        return found;
    };
    let moved = c.via.is_some_and(|n| n.kind == NameKind::Synonym);
    match species_of(genus, &epithet, moved) {
        Some((s, mended)) => {
            found.taxon = Taxon::Species(s);
            found.epithet_mended = mended;
        }
        None => found.epithet = Some(epithet.word),
    }
    found
}

#[cfg(test)]
mod tests {
    use super::resolve;

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
            assert!(a.found.unwrap().corrected_to().is_none(), "{written}");
        }
    }
}
