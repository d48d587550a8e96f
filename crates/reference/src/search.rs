//! Names that begin as a query does, for a look-up as one types, and the whole list of names.

use crate::fold::fold;
use crate::genus::{Genus, genera};
use crate::name::{NameKind, NameRecord, names};
use crate::report::{GenusRequest, LONGEST_QUERY, Rank, ReferenceError, TaxonBrief, report};
use crate::resolve::{Hit, entries};
use crate::species::Species;
use crate::traits::{Grade, Leaf, Opens, Pathway, Trait};
use serde::{Deserialize, Serialize};

/// How many matches are given where the request does not say.
const MATCHES: u8 = 12;
/// The most matches that are given.
const MOST_MATCHES: u8 = 50;

/// Asks for the names that begin with a text.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct SearchRequest {
    /// The beginning of a name: a genus, hybrid genus, old name or abbreviation, or a genus and
    /// the beginning of an epithet. 1 to 200 bytes.
    pub query: String,
    /// The most matches wanted, 1 to 50; 12 where left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<u8>,
}

/// The names that begin as the query does; where none does, what a misspelt name may mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct SearchReport {
    /// The query as given.
    pub query: String,
    /// The matches: accepted genera and species first, then other names, each in order of the
    /// alphabet.
    pub matches: Vec<SearchMatch>,
    /// Whether there are more than the limit.
    pub more: bool,
}

/// One name of the tables.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct SearchMatch {
    /// The name as it stands in the tables.
    pub name: String,
    /// `genus`, `species`, `cross`, `nothogenus`, `synonym`, `spelling` or `abbreviation`.
    pub kind: String,
    /// For a name that is not accepted: the genera it stands for; for a hybrid genus its parents.
    pub stands_for: Vec<String>,
    /// How it fixes carbon; `unknown` where it stands for several genera.
    pub pathway: Pathway,
    /// When its leaf stomata are expected open.
    pub opens: Opens,
    /// The type of leaf.
    pub leaf: Leaf,
    /// How well the pathway is known.
    pub grade: Grade,
}

/// Every name of the tables, for a look-up without a connection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct Catalogue {
    /// Every genus and other name, in order of the alphabet within each kind.
    pub names: Vec<SearchMatch>,
}

/// The names that begin as a query does, upper and lower case and diacritics alike.
///
/// # Errors
/// [`ReferenceError`] if the query is empty or longer than 200 bytes, or the limit is not 1 to 50.
///
/// ```
/// use guardcell_reference::search::{SearchRequest, search};
/// let found = search(&SearchRequest { query: "cattl".into(), limit: None })?;
/// assert_eq!(found.matches[0].name, "Cattleya");
/// # Ok::<(), guardcell_reference::ReferenceError>(())
/// ```
pub fn search(request: &SearchRequest) -> Result<SearchReport, ReferenceError> {
    let query = request.query.trim();
    if query.is_empty() {
        return Err(ReferenceError::EmptyQuery);
    }
    if request.query.len() > LONGEST_QUERY {
        return Err(ReferenceError::LongQuery { bytes: request.query.len() });
    }
    let limit = request.limit.unwrap_or(MATCHES);
    if !(1..=MOST_MATCHES).contains(&limit) {
        return Err(ReferenceError::Limit { limit });
    }
    let mut matches = match query.split_once(char::is_whitespace) {
        Some((genus, rest)) => species_of(genus, rest.trim()),
        None => beginning(query),
    };
    if matches.is_empty() {
        matches = meant(query)?;
    }
    let more = matches.len() > usize::from(limit);
    matches.truncate(usize::from(limit));
    Ok(SearchReport { query: request.query.clone(), matches, more })
}

/// Every name of the tables.
///
/// ```
/// let all = guardcell_reference::search::catalogue();
/// assert!(all.names.iter().any(|n| n.name == "Phalaenopsis" && n.kind == "genus"));
/// ```
#[must_use]
pub fn catalogue() -> Catalogue {
    let mut all: Vec<SearchMatch> = genera().iter().map(of_genus).collect();
    all.extend(names().iter().map(|n| of_name(n, n.name, n.kind)));
    all.sort_by_key(order);
    Catalogue { names: all }
}

fn beginning(query: &str) -> Vec<SearchMatch> {
    let Some(key) = fold(query) else { return Vec::new() };
    let Ok(prefix) = std::str::from_utf8(key.bytes()) else { return Vec::new() };
    let mut found: Vec<SearchMatch> = entries()
        .iter()
        .filter(|e| e.key().starts_with(prefix))
        .flat_map(|e| e.hits())
        .filter_map(|hit| match *hit {
            Hit::Genus(i) => genera().get(usize::from(i)).map(of_genus),
            Hit::Name(i) => names().get(usize::from(i)).map(|n| of_name(n, n.name, n.kind)),
            Hit::Hybrid(i, j) => {
                let short = names().get(usize::from(i))?;
                let hybrid = names().get(usize::from(j))?;
                let (name, kind) = if i == j {
                    (hybrid.abbreviation, NameKind::Abbreviation)
                } else {
                    (short.name, short.kind)
                };
                let mut m = of_name(hybrid, name, kind);
                m.stands_for = vec![hybrid.name.to_owned()];
                Some(m)
            }
        })
        .collect();
    found.sort_by_key(order);
    found.dedup();
    found
}

fn species_of(genus: &str, rest: &str) -> Vec<SearchMatch> {
    let Some(genus) = fold(genus) else { return Vec::new() };
    let rest = rest.to_lowercase();
    let Some(entry) = entries().iter().find(|e| e.key().as_bytes() == genus.bytes()) else {
        return Vec::new();
    };
    let of = |g: &'static Genus| {
        g.species().iter().filter(|s| s.epithet.starts_with(&rest)).map(of_species)
    };
    let mut found = Vec::new();
    for hit in entry.hits() {
        match *hit {
            Hit::Genus(i) => found.extend(genera().get(usize::from(i)).into_iter().flat_map(of)),
            Hit::Name(i) => found.extend(
                names().get(usize::from(i)).into_iter().flat_map(NameRecord::genera).flat_map(of),
            ),
            Hit::Hybrid(..) => {}
        }
    }
    found.sort_by_key(order);
    found
}

/// What a name that begins no other may mean.
fn meant(query: &str) -> Result<Vec<SearchMatch>, ReferenceError> {
    let answer = report(&GenusRequest { query: query.to_owned(), leaf: None })?;
    let mut found = Vec::new();
    if let Some(name) = answer.name {
        found.push(SearchMatch {
            name,
            kind: kind_of(answer.rank).to_owned(),
            stands_for: answer.parents.into_iter().map(|p| p.name).collect(),
            pathway: answer.pathway,
            opens: answer.opens,
            leaf: answer.leaf,
            grade: answer.evidence.grade,
        });
    }
    found.extend(answer.candidates.into_iter().map(of_brief));
    Ok(found)
}

fn of_brief(b: TaxonBrief) -> SearchMatch {
    SearchMatch {
        kind: kind_of(b.rank).to_owned(),
        name: b.name,
        stands_for: Vec::new(),
        pathway: b.pathway,
        opens: b.opens,
        leaf: b.leaf,
        grade: b.grade,
    }
}

const fn kind_of(rank: Rank) -> &'static str {
    match rank {
        Rank::Genus | Rank::Unknown => "genus",
        Rank::Species => "species",
        Rank::Nothogenus => "nothogenus",
        Rank::Cross => "cross",
    }
}

fn order(m: &SearchMatch) -> (u8, String) {
    let rank = match m.kind.as_str() {
        "genus" | "species" => 0,
        "nothogenus" => 1,
        "synonym" => 2,
        "abbreviation" => 3,
        _ => 4,
    };
    (rank, m.name.clone())
}

fn with_traits(name: String, kind: &str, stands_for: Vec<String>, traits: Trait) -> SearchMatch {
    SearchMatch {
        name,
        kind: kind.to_owned(),
        stands_for,
        pathway: traits.pathway,
        opens: traits.opens,
        leaf: traits.leaf,
        grade: traits.grade,
    }
}

fn of_genus(g: &Genus) -> SearchMatch {
    with_traits(g.name.to_owned(), "genus", Vec::new(), g.traits)
}

fn of_species(s: &'static Species) -> SearchMatch {
    with_traits(format!("{} {}", s.genus().name, s.epithet), "species", Vec::new(), s.traits)
}

fn of_name(n: &NameRecord, name: &str, kind: NameKind) -> SearchMatch {
    let stands_for: Vec<String> = n.genera().map(|g| g.name.to_owned()).collect();
    let mut genera = n.genera();
    let traits = match (n.kind, genera.next(), genera.next()) {
        (NameKind::Nothogenus, ..) => n.traits,
        (_, Some(only), None) => only.traits,
        _ => Trait::UNKNOWN,
    };
    with_traits(name.to_owned(), kind.word(), stands_for, traits)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn find(query: &str) -> SearchReport {
        search(&SearchRequest { query: query.into(), limit: None }).unwrap()
    }

    #[test]
    fn an_old_name_leads_to_the_genera_it_stands_for() {
        let found = find("sophroni");
        let old = found.matches.iter().find(|m| m.name == "Sophronitis").unwrap();
        assert_eq!(old.kind, "synonym");
        assert!(old.stands_for.contains(&"Cattleya".to_owned()), "{old:?}");
    }

    #[test]
    fn an_epithet_narrows_to_species() {
        let found = find("Dendrobium k");
        assert!(!found.matches.is_empty());
        assert!(found.matches.iter().all(|m| m.name.starts_with("Dendrobium k")), "{found:?}");
    }

    #[test]
    fn a_misspelling_gives_what_it_may_mean() {
        // A spelling the tables list says what it stands for; any other is found by its letters.
        let listed = find("Phalenopsis").matches;
        assert!(listed.iter().any(|m| m.stands_for == ["Phalaenopsis"]), "{listed:?}");
        assert!(find("Phalaenopsiz").matches.iter().any(|m| m.name == "Phalaenopsis"));
        assert!(find("Qqqqqqqqqqq").matches.is_empty());
    }

    #[test]
    fn bad_requests_are_refused() {
        let ask = |query: &str, limit| search(&SearchRequest { query: query.into(), limit });
        assert_eq!(ask(" ", None), Err(ReferenceError::EmptyQuery));
        assert_eq!(ask("Cat", Some(0)), Err(ReferenceError::Limit { limit: 0 }));
        assert!(ask("Cat", Some(1)).unwrap().matches.len() == 1);
    }
}
