//! The trait of a taxon as the build sees it, and how it is written into the generated tables.

use crate::pathway_rule::Shares;

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

    /// The value as Rust.
    pub(crate) fn rust(&self) -> String {
        let leafless = self.leaf == "Leafless";
        let opens = match self.pathway {
            _ if leafless => "Unknown",
            "C3" | "WeakCam" => "Day",
            "Cam" => "Night",
            "Facultative" | "Variable" => "Either",
            _ => "Unknown",
        };
        format!(
            "Trait {{ pathway: Pathway::{}, opens: Opens::{opens}, opens_peak: {}, leaf: Leaf::{}, \
             leafless: {leafless}, chance: {}, cam_share: {}, grade: Grade::{}, leaf_grade: Grade::{}, \
             sources: SourceKeys::of({}) }}",
            self.pathway,
            option((!self.peak.is_empty()).then(|| format!("PeakTime::{}", self.peak))),
            self.leaf,
            crate::genera::share(self.shares),
            option(self.cam_share.map(|(c, n)| format!("CamShare {{ cam: {c}, measured: {n} }}"))),
            self.grade,
            self.leaf_grade,
            strings(&self.sources),
        )
    }
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

/// A δ¹³C in per mille as Rust.
pub(crate) fn delta(permil: f64) -> String {
    format!("Delta13C {{ centi_permil: {} }}", (permil * 100.0).round() as i16)
}

/// A thickness in millimetres as Rust.
pub(crate) fn thickness(mm: f64) -> String {
    format!("Thickness {{ micrometres: {} }}", (mm * 1000.0).round() as u16)
}

/// Low, high and number as Rust.
pub(crate) fn span(values: Option<(f64, f64)>, n: usize, print: fn(f64) -> String) -> String {
    option(values.map(|(low, high)| {
        format!("Span {{ low: {}, high: {}, n: {n} }}", print(low), print(high))
    }))
}
