//! The numbers quoted from the tables.

use guardcell::reference::{
    CamShare, Genus, Grade, Leaf, NameKind, Pathway, genera, leaf_rule, leaf_rule_hit_rate, names,
    species, species_records, works,
};
use std::fmt::Write as _;

pub(crate) fn numbers() -> String {
    let mut text = String::new();
    let mut line = |what: &str, n: usize| {
        let _ = writeln!(text, "{what:<58} {n:>6}");
    };
    let count = |f: &dyn Fn(&Genus) -> bool| genera().iter().filter(|g| f(g)).count();
    line("accepted genera", genera().len());
    for &p in Pathway::ALL {
        line(&format!("  pathway {p}"), count(&|g| g.traits.pathway == p));
    }
    for &grade in Grade::ALL.iter().rev() {
        line(&format!("  evidence {grade}"), count(&|g| g.traits.grade == grade));
    }
    line(
        "  pathway and leaf both better than inferred",
        count(&|g| g.has_evidence() && g.traits.leaf_grade >= Grade::Reported),
    );
    line("  leaf and pathway disagree", count(&Genus::contradicts_leaf_rule));
    line("species with records", species().len());
    line("species records", species_records().len());
    line("  with δ13C", species_records().iter().filter(|r| r.d13c.is_some()).count());
    line(
        "  with leaf thickness",
        species_records().iter().filter(|r| r.thickness.is_some()).count(),
    );
    line(
        "  with overnight acidity",
        species_records().iter().filter(|r| r.acid_rise.is_some()).count(),
    );
    for kind in NameKind::ALL.iter().copied() {
        line(&format!("names: {}", kind.word()), names().iter().filter(|n| n.kind == kind).count());
    }
    line("works cited", works().len());
    line("  with DOI", works().iter().filter(|w| !w.doi.is_empty()).count());
    let _ = writeln!(text, "rule by leaf, among species with both measured");
    for &leaf in Leaf::ALL {
        if let Some(CamShare { cam, measured }) = leaf_rule(leaf).cam_share {
            let _ = writeln!(text, "  {leaf:<56} {cam:>6} of {measured} CAM");
        }
    }
    let rate = leaf_rule_hit_rate();
    let _ = writeln!(
        text,
        "  {:<56} {:>6} of {} right ({:.0} %)",
        "blade, cut at 1.0 mm",
        rate.right,
        rate.measured,
        100.0 * f64::from(rate.right) / f64::from(rate.measured.max(1))
    );
    text
}
