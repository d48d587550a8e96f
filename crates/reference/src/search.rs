//! Names that begin as a query does, for completion while typing, and the whole list of names.

use crate::fold::fold;
use crate::genus::{Genus, genera};
use crate::index::{Hit, entries, find};
use crate::name::{NameKind, NameRecord, names};
use crate::report::{blank, report};
use crate::response::{GenusRequest, NAME, Rank, TaxonBrief};
use crate::species::Species;
use crate::traits::{Grade, Leaf, Opens, Pathway, Trait};
use crate::words::words;
use guardcell_call::{Bound, Bounded, bounds};
use guardcell_error::Error;
use serde::{Deserialize, Serialize};

/// How many matches a response holds if the request does not say.
const DEFAULT_LIMIT: u8 = 12;

/// Asks for the names that begin with a text.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub struct SearchRequest {
    /// The beginning of a name: a genus, hybrid genus, old name or abbreviation, or a genus and
    /// the beginning of an epithet.
    pub query: String,
    /// The most matches wanted; 12 if omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<u8>,
}

guardcell_call::setters! { SearchRequest {
    /// The same with at most this many matches, 1 to 50.
    with_limit(limit: u8);
} }

impl SearchRequest {
    /// Asks for the names that begin with a text, 12 at most.
    #[must_use]
    pub fn new(query: impl Into<String>) -> Self {
        Self { query: query.into(), limit: None }
    }
}

bounds! { SearchRequest {
    query: NAME,
    limit: Bound::number(1.0, 50.0, "matches"),
} }

/// The names that begin as the query does; if none does, what a misspelt name may mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct SearchResponse {
    /// The query as given.
    pub query: String,
    /// The matches: accepted genera and species first, then other names, each in alphabetical
    /// order.
    pub matches: Vec<SearchMatch>,
    /// Whether there are more than the limit.
    pub more: bool,
}

words! {
    /// What kind of name a match is, in the order in which matches are listed.
    MatchKind {
        /// An accepted genus.
        Genus = "genus",
        /// A species with records.
        Species = "species",
        /// A hybrid genus.
        Nothogenus = "nothogenus",
        /// A cross of two genera written out.
        Cross = "cross",
        /// A generic name now included in another genus, or divided among several.
        Synonym = "synonym",
        /// An abbreviation of a genus.
        Abbreviation = "abbreviation",
        /// A common misspelling or variant spelling.
        Spelling = "spelling",
        /// A common name of the trade.
        Common = "common name",
    }
}

/// One name of the tables.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct SearchMatch {
    /// The name as spelt in the tables.
    pub name: String,
    /// What kind of name it is.
    pub kind: MatchKind,
    /// For a name that is not accepted: the genera it stands for; for a hybrid genus its parents.
    pub stands_for: Vec<String>,
    /// How it fixes carbon; `unknown` if it stands for several genera.
    pub pathway: Pathway,
    /// When its leaf stomata are expected open.
    pub opens: Opens,
    /// The type of leaf.
    pub leaf: Leaf,
    /// How well the pathway is known.
    pub grade: Grade,
}

/// Asks for every name of the tables.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct CatalogueRequest {}

/// Every name of the tables, for a look-up without a connection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct CatalogueResponse {
    /// Every genus and other name, in alphabetical order within each kind.
    pub names: Vec<SearchMatch>,
}

/// The names that begin as a query does; upper and lower case and diacritics do not matter.
///
/// # Errors
/// At `/query` if it is blank or longer than 200 characters, at `/limit` if it is not 1 to 50.
///
/// ```
/// # mod guardcell { pub use guardcell_error::{Error}; pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::{SearchRequest, search};
/// let found = search(&SearchRequest::new("cattl"))?;
/// assert_eq!(found.matches[0].name, "Cattleya");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn search(request: &SearchRequest) -> Result<SearchResponse, Error> {
    request.check_bounds()?;
    let query = request.query.trim();
    if query.is_empty() {
        return Err(blank());
    }
    let limit = usize::from(request.limit.unwrap_or(DEFAULT_LIMIT));
    let mut matches = match query.split_once(char::is_whitespace) {
        Some((genus, rest)) => species_beginning(genus, rest.trim()),
        None => beginning(query),
    };
    if matches.is_empty() {
        matches = possible_meanings(query)?;
    }
    let more = matches.len() > limit;
    matches.truncate(limit);
    Ok(SearchResponse { query: request.query.clone(), matches, more })
}

/// Every name of the tables.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::{MatchKind, catalogue};
/// let all = catalogue();
/// assert!(all.names.iter().any(|n| n.name == "Phalaenopsis" && n.kind == MatchKind::Genus));
/// ```
#[must_use]
pub fn catalogue() -> CatalogueResponse {
    let mut all: Vec<SearchMatch> = genera().iter().map(genus_match).collect();
    all.extend(names().iter().map(|n| name_match(n, n.name, n.kind)));
    sort(&mut all);
    CatalogueResponse { names: all }
}

fn sort(matches: &mut [SearchMatch]) {
    // A genus and its species are listed together.
    let rank = |k: MatchKind| if k == MatchKind::Species { MatchKind::Genus } else { k };
    matches.sort_by(|a, b| (rank(a.kind), &a.name).cmp(&(rank(b.kind), &b.name)));
}

fn beginning(query: &str) -> Vec<SearchMatch> {
    let Some(key) = fold(query) else { return Vec::new() };
    let Ok(prefix) = std::str::from_utf8(key.bytes()) else { return Vec::new() };
    let mut found: Vec<SearchMatch> = entries()
        .iter()
        .filter(|e| e.key().starts_with(prefix))
        .flat_map(|e| e.hits())
        .filter_map(|hit| match *hit {
            Hit::Genus(i) => genera().get(usize::from(i)).map(genus_match),
            Hit::Name(i) => names().get(usize::from(i)).map(|n| name_match(n, n.name, n.kind)),
            Hit::Hybrid(i, j) => {
                let short = names().get(usize::from(i))?;
                let hybrid = names().get(usize::from(j))?;
                let (name, kind) = if i == j {
                    (hybrid.abbreviation, NameKind::Abbreviation)
                } else {
                    (short.name, short.kind)
                };
                let mut m = name_match(hybrid, name, kind);
                m.stands_for = vec![hybrid.name.to_owned()];
                Some(m)
            }
        })
        .collect();
    sort(&mut found);
    found.dedup();
    found
}

fn species_beginning(genus: &str, rest: &str) -> Vec<SearchMatch> {
    let Some(genus) = fold(genus) else { return Vec::new() };
    let rest = rest.to_lowercase();
    let Some(entry) = find(&genus) else { return Vec::new() };
    let matching = |g: &'static Genus| {
        g.species().iter().filter(|s| s.epithet.starts_with(&rest)).map(species_match)
    };
    let mut found = Vec::new();
    for hit in entry.hits() {
        match *hit {
            Hit::Genus(i) => {
                found.extend(genera().get(usize::from(i)).into_iter().flat_map(matching))
            }
            Hit::Name(i) => found.extend(
                names()
                    .get(usize::from(i))
                    .into_iter()
                    .flat_map(NameRecord::genera)
                    .flat_map(matching),
            ),
            Hit::Hybrid(..) => {}
        }
    }
    sort(&mut found);
    found
}

/// What a name that begins no other may mean.
fn possible_meanings(query: &str) -> Result<Vec<SearchMatch>, Error> {
    let answer = report(&GenusRequest::new(query))?;
    let mut found = Vec::new();
    if let Some(name) = answer.name {
        found.push(SearchMatch {
            name,
            kind: match_kind(answer.rank),
            stands_for: answer.parents.into_iter().map(|p| p.name).collect(),
            pathway: answer.pathway,
            opens: answer.opens,
            leaf: answer.leaf,
            grade: answer.evidence.grade,
        });
    }
    found.extend(answer.candidates.into_iter().map(candidate_match));
    Ok(found)
}

fn candidate_match(b: TaxonBrief) -> SearchMatch {
    SearchMatch {
        kind: match_kind(b.rank),
        name: b.name,
        stands_for: Vec::new(),
        pathway: b.pathway,
        opens: b.opens,
        leaf: b.leaf,
        grade: b.grade,
    }
}

const fn match_kind(rank: Rank) -> MatchKind {
    match rank {
        Rank::Genus | Rank::Unknown => MatchKind::Genus,
        Rank::Species => MatchKind::Species,
        Rank::Nothogenus => MatchKind::Nothogenus,
        Rank::Cross => MatchKind::Cross,
    }
}

fn with_traits(name: String, kind: MatchKind, stands_for: Vec<String>, t: Trait) -> SearchMatch {
    SearchMatch {
        name,
        kind,
        stands_for,
        pathway: t.pathway,
        opens: t.opens,
        leaf: t.leaf,
        grade: t.grade,
    }
}

fn genus_match(g: &Genus) -> SearchMatch {
    with_traits(g.name.to_owned(), MatchKind::Genus, Vec::new(), g.traits)
}

fn species_match(s: &'static Species) -> SearchMatch {
    let name = format!("{} {}", s.genus().name, s.epithet);
    with_traits(name, MatchKind::Species, Vec::new(), s.traits)
}

fn name_match(n: &NameRecord, name: &str, kind: NameKind) -> SearchMatch {
    let stands_for: Vec<String> = n.genera().map(|g| g.name.to_owned()).collect();
    let mut genera = n.genera();
    let traits = match (n.kind, genera.next(), genera.next()) {
        (NameKind::Nothogenus, ..) => n.traits,
        (_, Some(only), None) => only.traits,
        _ => Trait::UNKNOWN,
    };
    let kind = match kind {
        NameKind::Synonym => MatchKind::Synonym,
        NameKind::Nothogenus => MatchKind::Nothogenus,
        NameKind::Spelling => MatchKind::Spelling,
        NameKind::Abbreviation => MatchKind::Abbreviation,
        NameKind::Common => MatchKind::Common,
    };
    with_traits(name.to_owned(), kind, stands_for, traits)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(query: &str) -> SearchResponse {
        search(&SearchRequest::new(query)).unwrap()
    }

    #[test]
    fn an_old_name_leads_to_the_genera_it_stands_for() {
        let found = found("sophroni");
        let old = found.matches.iter().find(|m| m.name == "Sophronitis").unwrap();
        assert_eq!(old.kind, MatchKind::Synonym);
        assert!(old.stands_for.contains(&"Cattleya".to_owned()), "{old:?}");
    }

    #[test]
    fn an_epithet_narrows_to_species() {
        let found = found("Dendrobium k");
        assert!(!found.matches.is_empty());
        assert!(found.matches.iter().all(|m| m.name.starts_with("Dendrobium k")), "{found:?}");
    }

    #[test]
    fn a_misspelling_gives_what_it_may_mean() {
        // A spelling the tables list says what it stands for; any other is found by its letters.
        let listed = found("Phalenopsis").matches;
        assert!(listed.iter().any(|m| m.stands_for == ["Phalaenopsis"]), "{listed:?}");
        assert!(found("Phalaenopsiz").matches.iter().any(|m| m.name == "Phalaenopsis"));
        assert!(found("Qqqqqqqqqqq").matches.is_empty());
    }

    #[test]
    fn requests_outside_their_bounds_are_refused() {
        let pointer = |request: SearchRequest| search(&request).unwrap_err().pointer().to_owned();
        assert_eq!(pointer(SearchRequest::new(" ")), "/query");
        assert_eq!(pointer(SearchRequest::new("a".repeat(201))), "/query");
        assert_eq!(pointer(SearchRequest::new("Cat").with_limit(0)), "/limit");
        assert_eq!(pointer(SearchRequest::new("Cat").with_limit(51)), "/limit");
        let one = search(&SearchRequest::new("Cat").with_limit(1)).unwrap();
        assert_eq!((one.matches.len(), one.more), (1, true));
    }
}
