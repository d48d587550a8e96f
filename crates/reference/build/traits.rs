//! The trait of a taxon as the build sees it, and how it is written into the generated tables.

use crate::pack::{Lists, Pack, variants};
use crate::pathway_rule::Shares;
use crate::table::words;

/// The times of day of `words::PEAK`, without the blank.
const PEAKS: &[(&str, &str)] = words::PEAK.split_at(1).1;

#[derive(Clone, PartialEq)]
pub(crate) struct Traits {
    pub(crate) pathway: &'static str,
    pub(crate) leaf: &'static str,
    pub(crate) peak: &'static str,
    pub(crate) shares: Option<Shares>,
    pub(crate) cam_share: Option<(u16, u16)>,
    pub(crate) grade: &'static str,
    pub(crate) leaf_grade: &'static str,
    pub(crate) sources: Vec<String>,
}

impl Traits {
    pub(crate) fn unknown() -> Self {
        Self {
            pathway: "Unknown",
            leaf: "Unknown",
            peak: "",
            shares: None,
            cam_share: None,
            grade: "Unknown",
            leaf_grade: "Unknown",
            sources: Vec::new(),
        }
    }

    /// The trait of a hybrid: what all parents share. Same rule as `Trait::cross` of the library,
    /// which a test of the library compares with this one.
    pub(crate) fn of_parents<'a>(parents: impl Iterator<Item = &'a Self> + Clone) -> Self {
        fn shared(mut words: impl Iterator<Item = &'static str>) -> &'static str {
            let Some(first) = words.next() else {
                return "Unknown";
            };
            words.fold(first, |a, b| match (a, b) {
                ("Unknown", _) | (_, "Unknown") => "Unknown",
                (a, b) if a == b => a,
                _ => "Variable",
            })
        }
        let grade = |word| {
            if word == "Unknown" { "Unknown" } else { "Inferred" }
        };
        let pathway = shared(parents.clone().map(|t| t.pathway));
        let leaf = shared(parents.clone().map(|t| t.leaf));
        let shares = mean(parents.clone().map(|t| t.shares));
        let mut sources = Vec::new();
        for key in parents.flat_map(|t| &t.sources) {
            if !sources.contains(key) {
                sources.push(key.clone());
            }
        }
        Self {
            pathway,
            leaf,
            shares,
            grade: grade(pathway),
            leaf_grade: grade(leaf),
            sources,
            ..Self::unknown()
        }
    }

    /// Writes the cells that `Trait::unpack` of the library reads.
    pub(crate) fn pack(&self, row: &mut Pack, lists: &mut Lists<'_>) {
        let per_mille = |share: f64| (share * 1000.0).round() as usize;
        row.word(words::PATHWAY, self.pathway);
        row.option(PEAKS.iter().position(|(_, v)| *v == self.peak));
        row.word(words::LEAF, self.leaf);
        row.option(self.shares.map(|s| per_mille(s.weak)));
        row.number(self.shares.map_or(0, |s| per_mille(s.cam)));
        row.option(self.cam_share.map(|(cam, _)| cam.into()));
        row.number(self.cam_share.map_or(0, |(_, measured)| measured.into()));
        row.word(words::GRADE, self.grade);
        row.word(words::GRADE, self.leaf_grade);
        row.number(lists.number(&self.sources));
    }
}

/// The words that [`Traits::pack`] writes, as Rust.
pub(crate) fn emit() -> String {
    variants("PATHWAYS", "Pathway", words::PATHWAY)
        + &variants("PEAKS", "PeakTime", PEAKS)
        + &variants("LEAVES", "Leaf", words::LEAF)
        + &variants("GRADES", "Grade", words::GRADE)
}

/// The mean over the parents; unknown where it is of one of them.
fn mean(shares: impl Iterator<Item = Option<Shares>>) -> Option<Shares> {
    let all: Vec<Shares> = shares.collect::<Option<Vec<_>>>()?;
    let n = all.len() as f64;
    (n > 0.0).then(|| Shares {
        c3: all.iter().map(|s| s.c3).sum::<f64>() / n,
        weak: all.iter().map(|s| s.weak).sum::<f64>() / n,
        cam: all.iter().map(|s| s.cam).sum::<f64>() / n,
    })
}

pub(crate) fn option(value: Option<String>) -> String {
    value.map_or_else(|| "None".into(), |v| format!("Some({v})"))
}

pub(crate) fn strings(values: &[String]) -> String {
    format!("&{values:?}")
}

/// The hundredths of a per mille by which a δ¹³C is below 0.
pub(crate) fn delta(permil: f64) -> usize {
    (permil * -100.0).round() as usize
}

/// The micrometres of a thickness in millimetres.
pub(crate) fn thickness(mm: f64) -> usize {
    (mm * 1000.0).round() as usize
}

/// Low, high and number.
pub(crate) fn span(
    row: &mut Pack,
    (values, n): (Option<(f64, f64)>, usize),
    whole: fn(f64) -> usize,
) {
    row.option(values.map(|(low, _)| whole(low)));
    row.number(values.map_or(0, |(_, high)| whole(high)));
    row.number(values.map_or(0, |_| n));
}
