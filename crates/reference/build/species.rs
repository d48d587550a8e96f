//! Records of species → the trait each species' records add up to, by the rule.

use crate::genera::Genus;
use crate::observations::{GenusStatement, Record};
use crate::pack::{Lists, Pack, variants};
use crate::pathway_relatives::{Group, Member, Relatives, Without};
use crate::pathway_rule::{Evidence, Kind, Rule};
use crate::table::words;
use crate::traits::{Traits, delta, span, thickness};
use std::collections::BTreeMap;

/// One species: its place in the table of records and what they add up to.
pub(crate) struct Species {
    pub(crate) genus: usize,
    pub(crate) epithet: String,
    records: (usize, usize),
    pub(crate) member: Member,
    pub(crate) measured: bool,
    pub(crate) d13c: (Option<(f64, f64)>, usize),
    pub(crate) thickness: (Option<(f64, f64)>, usize),
    evidence: Vec<Evidence>,
    facultative: bool,
    grade: &'static str,
    pub(crate) sources: Vec<String>,
    traits: Traits,
}

/// Gathers the records of each species.
pub(crate) fn gather(records: &[Record], rule: &Rule) -> Vec<Species> {
    let mut all = Vec::new();
    let mut from = 0;
    for group in records.chunk_by(|a, b| (a.genus, &a.epithet) == (b.genus, &b.epithet)) {
        let to = from + group.len();
        let on_leaf: Vec<&Record> = group.iter().filter(|r| r.counts()).collect();
        // Where no record is about the leaf (a leafless plant), all of them count.
        let counted = if on_leaf.is_empty() { group.iter().collect() } else { on_leaf };
        all.extend(group.first().map(|first| one(first, &counted, (from, to), rule)));
        from = to;
    }
    all
}

fn one(first: &Record, records: &[&Record], place: (usize, usize), rule: &Rule) -> Species {
    let evidence: Vec<_> = records.iter().flat_map(|r| r.evidence()).collect();
    let known: Vec<&&Record> = records.iter().filter(|r| !r.evidence().is_empty()).collect();
    let mut sources = Vec::new();
    for key in known.iter().flat_map(|r| &r.sources) {
        if !sources.contains(key) {
            sources.push(key.clone());
        }
    }
    let thickness = extent(records.iter().filter_map(|r| r.thickness));
    let mm: Vec<f64> = records.iter().filter_map(|r| r.thickness).collect();
    let leaf_mm = (!mm.is_empty()).then(|| mm.iter().sum::<f64>() / mm.len() as f64);
    let measured = known.iter().any(|r| r.measured());
    Species {
        genus: first.genus,
        epithet: first.epithet.clone(),
        records: place,
        member: Member::of(rule, &evidence, leaf_mm, !records.iter().any(|r| r.uncounted)),
        measured,
        d13c: extent(records.iter().filter_map(|r| r.d13c)),
        thickness,
        facultative: records
            .iter()
            .any(|r| matches!(r.statement, Some(("Facultative", _))) && !r.outlier),
        grade: match (measured, known.is_empty()) {
            (true, _) => "Measured",
            (false, false) => "Reported",
            (false, true) => "Unknown",
        },
        evidence,
        sources,
        traits: Traits::unknown(),
    }
}

fn extent(values: impl Iterator<Item = f64>) -> (Option<(f64, f64)>, usize) {
    values.fold((None, 0), |(span, n), v| {
        let (low, high) = span.unwrap_or((v, v));
        (Some((v.min(low), v.max(high))), n + 1)
    })
}

/// What each genus has of its own, for the rule.
pub(crate) fn groups(
    genera: &[Genus],
    species: &[Species],
    statements: &[GenusStatement],
) -> Vec<Group> {
    genera
        .iter()
        .enumerate()
        .map(|(i, g)| Group {
            place: g.placement.clone(),
            leaf: g.traits.leaf.to_lowercase(),
            members: species.iter().filter(|s| s.genus == i).map(|s| s.member).collect(),
            statement: statements.iter().find(|s| s.genus == i).map(GenusStatement::of_rule),
        })
        .collect()
}

/// Computes the trait of each species.
pub(crate) fn judge(species: &mut [Species], genera: &[Genus], relatives: &Relatives, rule: &Rule) {
    let mut place = (usize::MAX, 0);
    for s in species {
        let Some(genus) = genera.get(s.genus) else { continue };
        // The species are sorted by genus, as the members of the groups are.
        place = (s.genus, if s.genus == place.0 { place.1 + 1 } else { 0 });
        let prior = relatives.prior(s.genus, Without::Member(place.1), s.member.leaf_mm);
        let shares = rule.shares(prior, rule.likelihood(&s.evidence));
        let known = s.grade != "Unknown";
        let pathway = if known {
            word(rule.call_species(shares, &s.evidence), s.facultative, true)
        } else {
            "Unknown"
        };
        let leaf = &genus.traits;
        let (leaf, leaf_grade) = match s.member.leaf_mm {
            Some(mm) if !matches!(leaf.leaf, "Terete" | "Leafless") => {
                (crate::leaf_rule::class(mm), "Measured")
            }
            _ if matches!(leaf.leaf_grade, "Measured" | "Reported") => (leaf.leaf, "Inferred"),
            _ => (leaf.leaf, leaf.leaf_grade),
        };
        s.traits = Traits {
            pathway,
            leaf,
            peak: genus.traits.peak,
            shares: known.then_some(shares),
            cam_share: None,
            grade: s.grade,
            leaf_grade,
            sources: s.sources.clone(),
        };
    }
}

/// The word of the pathway that the rule names.
pub(crate) fn word(call: Option<Kind>, facultative: bool, own: bool) -> &'static str {
    match call {
        Some(Kind::Cam) => "Cam",
        Some(Kind::Weak) if facultative => "Facultative",
        Some(Kind::Weak) => "WeakCam",
        Some(Kind::C3) => "C3",
        None if own => "Variable",
        None => "Unknown",
    }
}

pub(crate) fn ranges(species: &[Species], genera: &[Genus]) -> BTreeMap<String, (usize, usize)> {
    let mut ranges: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    for (i, s) in species.iter().enumerate() {
        if let Some(g) = genera.get(s.genus) {
            ranges.entry(g.name.clone()).or_insert((i, i)).1 = i + 1;
        }
    }
    ranges
}

/// What one record says of the pathway, its statement before its values.
pub(crate) fn of_record(record: &Record, rule: &Rule) -> (&'static str, &'static str) {
    if let Some((statement, grade)) = record.statement {
        return (statement, grade);
    }
    let evidence = record.evidence();
    if record.d13c.is_none() || evidence.is_empty() {
        return ("Unknown", "Reported");
    }
    let likelihood = rule.likelihood(&evidence);
    let pathway = if rule.own_cam(likelihood) > 0.5 {
        "Cam"
    } else if record.significant == Some(true) {
        "WeakCam"
    } else {
        "C3"
    };
    (pathway, "Measured")
}

/// The part of a kind of evidence that is no number: its place in the list of the library.
fn what(evidence: &Evidence) -> usize {
    match evidence {
        Evidence::D13c(..) => 0,
        Evidence::AcidRise(significant) => 1 + usize::from(*significant),
        Evidence::Says(kind, by) => 3 + 3 * *kind as usize + *by as usize,
    }
}

pub(crate) fn emit(
    records: &[Record],
    species: &[Species],
    rule: &Rule,
    lists: &mut Lists<'_>,
) -> String {
    let evidence = Pack::of(species.iter().flat_map(|s| &s.evidence), |row, e| {
        let (value, span) = match e {
            Evidence::D13c(value, span) => (Some(*value), *span),
            _ => (None, None),
        };
        row.number(what(e));
        row.float(value);
        row.float(span.map(|(low, _)| low));
        row.float(span.map(|(_, high)| high));
    });
    // The rows of a species come after those of the species before it, as the species do.
    let of_species = Pack::of(species, |row, s| {
        row.text(&s.epithet);
        span(row, s.d13c, delta);
        span(row, s.thickness, thickness);
        s.traits.pack(row, lists);
        row.flag(s.member.counted);
        row.number(s.evidence.len());
        row.float(s.member.leaf_mm);
        row.number(s.genus);
        row.number(s.records.1 - s.records.0);
    });
    let of_records = Pack::of(records, |row, r| {
        let (pathway, grade) = of_record(r, rule);
        let whole = |n: Option<f64>| n.map(|n| n as usize);
        row.text(&r.key);
        row.word(words::ORGAN, r.organ);
        row.option(r.d13c.map(delta));
        row.option(whole(r.d13c_n));
        row.option(r.thickness.map(thickness));
        row.option(whole(r.thickness_n));
        row.float(r.acid_rise);
        row.option(r.significant.map(usize::from));
        row.word(words::PATHWAY, pathway);
        row.flag(r.outlier);
        row.word(words::GRADE, grade);
        row.text(&r.method());
        row.number(lists.number(&r.sources));
        row.text(&r.verbatim);
        row.text(&r.notes);
    });
    variants("ORGANS", "Organ", words::ORGAN)
        + &evidence.rust("PACKED_EVIDENCE")
        + &of_species.rust("PACKED_SPECIES")
        + &of_records.rust("PACKED_RECORDS")
        + &format!("static RULE: crate::pathway_rule::Rule = crate::pathway_rule::{rule:?};")
}
