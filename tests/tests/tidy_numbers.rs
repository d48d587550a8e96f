//! A number that decides an answer is a row of `data/`, with its source. The decimal numbers that
//! stand in the code of the core are listed in `tests/data/numbers_in_code.csv`, each with the reason
//! why it is no such number: a new one fails until it has moved or has its reason.

mod source;

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use proc_macro2::{TokenStream, TokenTree};
use source::{files, root};

const CORE: [&str; 9] =
    ["error", "call", "units", "reference", "solution", "film", "clock", "advice", "ledger"];

/// Factors of arithmetic, powers of ten and parts of a day need no reason.
const PLAIN: [f64; 15] =
    [0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 7.0, 10.0, 100.0, 1e3, 1e6, 1e-3, 60.0, 3600.0, 24.0];

#[test]
fn numbers_that_decide_are_data() {
    let found = found();
    assert!(found.len() > 40, "only {} files with numbers were read", found.len());
    let mut listed: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut table = csv::Reader::from_path(list()).unwrap();
    for row in table.records() {
        let row = row.unwrap();
        assert!(row[2].len() > 10, "{}: {}: give a reason", &row[0], &row[1]);
        let numbers = listed.entry(row[0].to_owned()).or_default();
        for number in row[1].split(' ') {
            assert!(numbers.insert(number.to_owned()), "{}: {number} is listed twice", &row[0]);
        }
    }
    let mut faults = Vec::new();
    for (file, numbers) in &found {
        let known = listed.get(file).cloned().unwrap_or_default();
        for number in numbers.difference(&known) {
            faults.push(format!("{file}: {number}: move it to data/ or list it with its reason"));
        }
    }
    for (file, numbers) in &listed {
        let there = found.get(file).cloned().unwrap_or_default();
        for number in numbers.difference(&there) {
            faults.push(format!("{file}: {number} is gone: remove it from the list"));
        }
    }
    assert!(faults.is_empty(), "{} numbers:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn a_number_is_found_in_code_and_in_macros_but_not_in_a_range() {
    let code = "fn f() -> f64 { let x = 0.37_f64; assert!(x < 8.5); x * 2.0 }
        bounds! { pub PH = 3.5..=12.5; }
        #[cfg(test)] mod tests { const A: f64 = 99.5; }";
    let found = numbers(code.parse().unwrap());
    assert_eq!(found, BTreeSet::from(["0.37".to_owned(), "8.5".to_owned()]));
}

fn list() -> PathBuf {
    root().join("tests/data/numbers_in_code.csv")
}

fn found() -> BTreeMap<String, BTreeSet<String>> {
    let mut out = BTreeMap::new();
    for name in CORE {
        for file in files(&root().join("crates").join(name).join("src"), &["rs"]) {
            // Modules of tests in files of their own.
            if ["tests.rs", "properties.rs"].iter().any(|name| file.ends_with(name)) {
                continue;
            }
            let text = std::fs::read_to_string(&file).unwrap();
            let there = numbers(text.parse().unwrap());
            if !there.is_empty() {
                let path = file.strip_prefix(root().join("crates")).unwrap();
                out.insert(path.display().to_string(), there);
            }
        }
    }
    out
}

/// The decimal numbers of some code, without underscores and suffixes. Attributes, documentation,
/// code for tests and declared ranges (`bounds!`) are not searched.
fn numbers(tokens: TokenStream) -> BTreeSet<String> {
    let tokens: Vec<TokenTree> = tokens.into_iter().collect();
    let mut out = BTreeSet::new();
    let mut at = 0;
    while at < tokens.len() {
        match &tokens[at] {
            TokenTree::Punct(p) if p.as_char() == '#' => {
                // an attribute: `#[..]` or `#![..]`, and what it keeps out of a build
                at += 1;
                if matches!(&tokens[at], TokenTree::Punct(p) if p.as_char() == '!') {
                    at += 1;
                }
                if tokens[at].to_string().replace(' ', "").starts_with("[cfg(test)") {
                    while !matches!(&tokens[at], TokenTree::Group(g) if g.delimiter() == proc_macro2::Delimiter::Brace)
                        && !matches!(&tokens[at], TokenTree::Punct(p) if p.as_char() == ';')
                    {
                        at += 1;
                    }
                }
            }
            TokenTree::Ident(name) if name == "bounds" => at += 2,
            TokenTree::Group(group) => out.extend(numbers(group.stream())),
            TokenTree::Literal(literal) => out.extend(decimal(&literal.to_string())),
            _ => {}
        }
        at += 1;
    }
    out
}

fn decimal(literal: &str) -> Option<String> {
    let text = literal.replace('_', "").trim_end_matches("f64").to_owned();
    let starts = text.starts_with(|c: char| c.is_ascii_digit());
    if !starts || !text.contains(['.', 'e']) || text.starts_with("0x") {
        return None;
    }
    let value: f64 = text.parse().ok()?;
    (!PLAIN.contains(&value)).then_some(text)
}
