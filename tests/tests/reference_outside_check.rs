//! Pathways against publications that fill no row they check: `tests/data/trait_check.csv`,
//! whose every line names its publication and how it was read.

use guardcell::reference::{Pathway, resolve};

#[derive(serde::Deserialize)]
struct Check {
    taxon: String,
    /// One pathway, or several parted by `|` where the publication leaves it open.
    expected_pathway: String,
    source: String,
    note: String,
}

/// How an answer stands to what a publication says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Standing {
    Agrees,
    /// The genus answers `variable` and gives the share, so the answer is not wrong, only open.
    LeftOpen,
    /// Another answer, for a reason that the line gives.
    Explained,
    Contradicts,
}

/// The review rests in part on the surveys that fill the rows: its lines are counted apart.
const REVIEW: &str = "gilman2023cam";

fn word(pathway: Pathway) -> String {
    serde_json::to_value(pathway)
        .expect("a pathway is a word")
        .as_str()
        .expect("a pathway is a word")
        .to_owned()
}

fn standing(check: &Check) -> Standing {
    let answer = word(resolve(&check.taxon).traits().pathway);
    if check.expected_pathway.split('|').any(|w| w == answer) {
        Standing::Agrees
    } else if answer == "variable" {
        Standing::LeftOpen
    } else if check.note.contains("EXPLAINED") {
        Standing::Explained
    } else {
        Standing::Contradicts
    }
}

fn checks() -> Vec<Check> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/data/trait_check.csv");
    csv::Reader::from_path(path)
        .expect("tests/data/trait_check.csv opens")
        .deserialize()
        .collect::<Result<_, _>>()
        .expect("every line has the columns of the header")
}

#[test]
fn pathways_agree_with_publications_not_used_for_them() {
    let checks = checks();
    let mut contradicted = Vec::new();
    for (name, of_review) in [("surveys and single studies", false), ("one review", true)] {
        let judged: Vec<(&Check, Standing)> = checks
            .iter()
            .filter(|c| (c.source == REVIEW) == of_review)
            .map(|c| (c, standing(c)))
            .collect();
        let count = |s| judged.iter().filter(|(_, t)| *t == s).count();
        println!(
            "{name}: {} taxa, {} agree, {} left open, {} explained, {} contradict",
            judged.len(),
            count(Standing::Agrees),
            count(Standing::LeftOpen),
            count(Standing::Explained),
            count(Standing::Contradicts),
        );
        contradicted.extend(judged.iter().filter(|(_, s)| *s == Standing::Contradicts).map(
            |(c, _)| {
                format!(
                    "{}: {} says {}, the data say {}",
                    c.taxon,
                    c.source,
                    c.expected_pathway,
                    word(resolve(&c.taxon).traits().pathway)
                )
            },
        ));
        if !of_review {
            assert!(judged.len() >= 60, "{} taxa, at least 60 are wanted", judged.len());
            assert!(count(Standing::Agrees) * 2 > judged.len(), "no more than half agree outright");
        }
    }
    assert!(contradicted.is_empty(), "{}", contradicted.join("\n"));
}

#[test]
fn every_check_names_a_known_work_once_per_taxon() {
    let checks = checks();
    let known = include_str!("../../data/sources.csv");
    let mut taxa: Vec<&str> = checks.iter().map(|c| c.taxon.as_str()).collect();
    taxa.sort_unstable();
    let all = taxa.len();
    taxa.dedup();
    assert_eq!(taxa.len(), all, "duplicate taxon");
    for c in &checks {
        let start = format!("\n{},", c.source);
        assert!(known.contains(&start), "{} is not in data/sources.csv", c.source);
    }
}
