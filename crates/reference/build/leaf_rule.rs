//! How often the rule "thin leaf by day, thick leaf by night" holds, counted from the species
//! whose leaf and pathway were both measured.

use crate::genera::Genus;
use crate::observations::Record;
use crate::pathway_rule::Rule;
use crate::species::of_record;
use crate::traits::strings;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// The class of a blade of this thickness. The cuts are those of the column description of
/// `leaf` in data/README.md; 1.0 mm is the cut that tells CAM from C3 best.
pub(crate) fn class(mm: f64) -> &'static str {
    if mm < 0.5 {
        "Thin"
    } else if mm <= 1.0 {
        "Intermediate"
    } else {
        "Thick"
    }
}

pub(crate) fn emit(records: &[Record], genera: &[Genus], rule: &Rule) -> String {
    // Species, by class of leaf: whether any record of it calls it CAM.
    let mut counted: BTreeMap<(&str, usize, &str), bool> = BTreeMap::new();
    let mut keys: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for r in records {
        let Some(genus) = genera.get(r.genus) else {
            continue;
        };
        let (pathway, grade) = of_record(r, rule);
        if grade != "Measured" || !matches!(pathway, "C3" | "WeakCam" | "Cam") {
            continue;
        }
        let leaf = match (genus.traits.leaf, r.thickness) {
            ("Terete", _) => "Terete",
            ("Leafless", _) => "Leafless",
            (_, Some(mm)) => class(mm),
            _ => continue,
        };
        *counted.entry((leaf, r.genus, &r.epithet)).or_default() |= pathway == "Cam";
        keys.entry(leaf).or_default().extend(r.sources.iter().cloned());
    }
    let mut text = String::from("static COUNTS: [Counted; 5] = [\n");
    for (leaf, _) in ["Thin", "Intermediate", "Thick", "Terete", "Leafless"].map(|l| (l, ())) {
        let of = counted.iter().filter(|((l, _, _), _)| *l == leaf);
        let (n, cam) = of.fold((0, 0), |(n, c), (_, is_cam)| (n + 1, c + u32::from(*is_cam)));
        let sources: Vec<String> = keys.get(leaf).into_iter().flatten().cloned().collect();
        let _ = writeln!(
            text,
            "    Counted {{ leaf: Leaf::{leaf}, share: CamShare {{ cam: {cam}, measured: {n} }}, \
             sources: {} }},",
            strings(&sources)
        );
    }
    text.push_str("];\n");
    text
}
