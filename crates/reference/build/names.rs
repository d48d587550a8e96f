//! `data/names.csv` → synonyms, hybrid genera, spellings and abbreviations.

use crate::genera::Genus;
use crate::pack::{Lists, Pack, variants};
use crate::table::{Faults, Row, rows, words};
use crate::traits::Traits;
use std::collections::{BTreeMap, BTreeSet};

const COLUMNS: [&str; 9] = [
    "name",
    "kind",
    "accepted",
    "parents",
    "abbreviation",
    "status",
    "evidence",
    "sources",
    "notes",
];

pub(crate) struct Name {
    pub(crate) at: String,
    pub(crate) name: String,
    pub(crate) kind: &'static str,
    pub(crate) abbreviation: String,
    current: &'static str,
    evidence: &'static str,
    /// Indices of genera: the accepted ones, or the parents.
    pub(crate) genera: Vec<usize>,
    /// For an abbreviation of a hybrid genus, its name.
    pub(crate) of_hybrid: Option<String>,
    sources: Vec<String>,
    notes: String,
}

pub(crate) fn parse(
    genera: &[Genus],
    sources: &BTreeMap<String, usize>,
    faults: &mut Faults,
) -> Result<Vec<Name>, String> {
    let table = rows(guardcell_data::NAMES, &COLUMNS)?;
    let cell = |row: &Row<'_>, column: &str| row.get(column).to_owned();
    // Synonyms first, so that a parent or an accepted genus may be given by an older name.
    let synonyms: BTreeMap<String, String> = table
        .iter()
        .filter(|r| matches!(r.get("kind"), "synonym" | "spelling"))
        .map(|r| (cell(r, "name"), cell(r, "accepted")))
        .collect();
    let hybrids: BTreeSet<String> =
        table.iter().filter(|r| r.get("kind") == "nothogenus").map(|r| cell(r, "name")).collect();
    let find = |name: &str| genera.binary_search_by(|g| g.name.as_str().cmp(name)).ok();
    let mut names: Vec<Name> = Vec::new();
    for row in &table {
        let name = cell(row, "name");
        let kind = row.word("kind", words::KIND, faults);
        let evidence = row.word("evidence", words::NAME_EVIDENCE, faults);
        let keys = row.keys("sources", sources, faults);
        if evidence == "Reported" && keys.is_empty() {
            faults.error(&row.at, format!("{name} is reported and names no source"));
        }
        if crate::fold::fold(&name).is_none() {
            faults.error(
                &row.at,
                format!("name {name:?}; it should be a word of at most 64 letters"),
            );
        }
        if kind != "Abbreviation" && find(&name).is_some() {
            faults
                .error(&row.at, format!("{name} is a {kind} here and accepted in data/genera.csv"));
            continue;
        }
        let is_hybrid = kind == "Nothogenus";
        let (column, blank) =
            if is_hybrid { ("parents", "accepted") } else { ("accepted", "parents") };
        if !row.get(blank).is_empty() {
            faults.error(&row.at, format!("{name}: a {kind} has no {blank}"));
        }
        let wanted = cell(row, column);
        let of_hybrid =
            (kind != "Nothogenus" && hybrids.contains(&wanted)).then_some(wanted.clone());
        let mut indices = Vec::new();
        let mut missing = false;
        if of_hybrid.is_none() {
            for given in wanted.split('|').map(str::trim).filter(|s| !s.is_empty()) {
                let resolved = match (find(given), synonyms.get(given)) {
                    (Some(i), _) => vec![i],
                    (None, Some(accepted)) if is_hybrid => {
                        // A parent under a divided name may be any of the parts: keep them all.
                        accepted.split('|').filter_map(|a| find(a.trim())).collect()
                    }
                    _ => Vec::new(),
                };
                if resolved.is_empty() {
                    missing = true;
                    faults.error(
                        &row.at,
                        format!("{name}: {column} {given:?} is not a genus of data/genera.csv"),
                    );
                }
                for i in resolved {
                    if !indices.contains(&i) {
                        indices.push(i);
                    }
                }
            }
            if missing {
                continue;
            }
            if indices.is_empty() {
                faults.error(&row.at, format!("{name}: {column} is blank"));
                continue;
            }
            // A hybrid of genera that have since become one has one parent left.
            if is_hybrid && indices.len() < 2 && row.get("status") != "legacy" {
                faults.error(
                    &row.at,
                    format!("{name}: a current hybrid genus has at least two parents"),
                );
            }
        }
        names.push(Name {
            at: row.at.clone(),
            abbreviation: cell(row, "abbreviation"),
            current: row.word("status", words::STATUS, faults),
            notes: cell(row, "notes"),
            genera: indices,
            sources: keys,
            name,
            kind,
            evidence,
            of_hybrid,
        });
    }
    names.sort_by(|a, b| (&a.name, a.kind, &a.genera).cmp(&(&b.name, b.kind, &b.genera)));
    for pair in names.windows(2) {
        if let [a, b] = pair
            && a.name == b.name
            && (a.kind == "Abbreviation") == (b.kind == "Abbreviation")
            && (a.kind != "Abbreviation" || (&a.genera, &a.of_hybrid) == (&b.genera, &b.of_hybrid))
        {
            faults.error(&b.at, format!("duplicate name {:?} (also {})", b.name, a.at));
        }
    }
    Ok(names)
}

pub(crate) fn emit(names: &[Name], genera: &[Genus], lists: &mut Lists<'_>) -> String {
    let packed = Pack::of(names, |row, n| {
        let parents = n.genera.iter().filter_map(|&i| genera.get(i));
        let traits = if n.kind == "Nothogenus" {
            Traits::of_parents(parents.map(|g| &g.traits))
        } else {
            Traits::unknown()
        };
        row.text(&n.name);
        row.word(words::KIND, n.kind);
        row.text(&n.abbreviation);
        row.flag(n.current == "true");
        row.word(words::NAME_EVIDENCE, n.evidence);
        traits.pack(row, lists);
        row.number(lists.number(&n.sources));
        row.text(&n.notes);
        row.numbers(&n.genera);
    });
    variants("KINDS", "NameKind", words::KIND)
        + &variants("EVIDENCE", "NameEvidence", words::NAME_EVIDENCE)
        + &packed.rust("PACKED_NAMES")
}
