//! The table of reason codes: kebab-case English, each once, each explained.

use guardcell::advice::codes;
use std::collections::BTreeSet;

#[test]
fn codes_are_kebab_case_unique_and_explained() {
    let mut seen = BTreeSet::new();
    for (code, about) in codes() {
        assert!(seen.insert(code), "duplicate code {code}");
        assert!(
            code.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'),
            "{code}"
        );
        assert!(about.ends_with('.') && about.len() > 15, "{code}: {about}");
    }
    assert!(seen.len() > 50);
}
