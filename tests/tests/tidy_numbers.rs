//! No number that decides an answer is written in code: it is a row of `data/` with its source, or
//! marked `common practice, no source`. What remains is listed, with the reason, in
//! `tests/data/numbers-in-code.csv`.

mod source;

use source::{files, root};
use std::collections::{BTreeMap, BTreeSet};
use syn::visit::Visit;

/// The crates that answer.
const CRATES: &[&str] = &["solution", "film", "clock", "advice", "ledger"];

/// Numbers of arithmetic and of units, which decide nothing.
const NEUTRAL: &[f64] = &[
    0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 7.0, 10.0, 12.0, 24.0, 60.0, 100.0, 180.0, 360.0,
    365.0, 365.25, 1000.0, 3600.0, 86_400.0, 1e4, 1e5, 1e6, 1e9, 1e-3, 1e-6, 1e-9, 273.15, 298.15,
    1440.0,
];

#[test]
fn numbers_that_decide_are_data() {
    let allowed = allowed();
    let mut used = BTreeSet::new();
    let mut found = Vec::new();
    for name in CRATES {
        let src = root().join("crates").join(name).join("src");
        for path in files(&src, &["rs"]) {
            let file = path.strip_prefix(root()).unwrap().display().to_string();
            if file.ends_with("tests.rs") {
                continue;
            }
            let text = std::fs::read_to_string(&path).unwrap();
            let mut numbers = Numbers::default();
            numbers.visit_file(&syn::parse_file(&text).unwrap());
            for (number, value) in numbers.found {
                if NEUTRAL.contains(&value.0) {
                    continue;
                }
                let key = (file.clone(), number.clone());
                if allowed.contains_key(&key) {
                    used.insert(key);
                } else {
                    found.push(format!("{file},{number},"));
                }
            }
        }
    }
    assert!(
        found.is_empty(),
        "{} numbers are new; move them to data/, or add them to tests/data/numbers-in-code.csv with \
         the reason why they decide nothing:\n{}",
        found.len(),
        found.join("\n")
    );
    let stale: Vec<_> = allowed.keys().filter(|key| !used.contains(*key)).collect();
    assert!(stale.is_empty(), "rows without a number in code: {stale:?}");
}

/// File and number, with the reason.
fn allowed() -> BTreeMap<(String, String), String> {
    let path = root().join("tests/data/numbers-in-code.csv");
    let mut reader = csv::Reader::from_path(&path).unwrap();
    reader
        .records()
        .map(|record| {
            let record = record.unwrap();
            assert!(record[2].len() > 8, "{record:?} has no reason");
            ((record[0].to_owned(), record[1].to_owned()), record[2].to_owned())
        })
        .collect()
}

/// Float literals outside tests, bounds and documentation.
#[derive(Default)]
struct Numbers {
    found: BTreeSet<(String, Bits)>,
}

/// A float that can be kept in a set.
#[derive(Clone, Copy, PartialEq)]
struct Bits(f64);

impl Eq for Bits {}

impl PartialOrd for Bits {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Bits {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl<'ast> Visit<'ast> for Numbers {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !source::is_test(&item.attrs) {
            syn::visit::visit_item_mod(self, item);
        }
    }

    // Ranges of fields are declared beside their types in `bounds!`, which is not parsed as code.
    fn visit_lit_float(&mut self, literal: &'ast syn::LitFloat) {
        let digits = literal.base10_digits().to_owned();
        let value: f64 = digits.parse().unwrap();
        self.found.insert((digits, Bits(value)));
    }
}
