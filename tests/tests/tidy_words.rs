//! Plain modern English: words that make a reader in a hurry stumble stay out.

mod source;

use source::{files, root};

/// Wording that is not used, with what to write instead. Each is split, so that this file does not
/// contain it.
const WORDS: &[(&[&str], &str)] = &[
    (&["nou", "ght"], "zero, nothing"),
    (&["sh", "all "], "must, will, or the imperative"),
    (&["is no", "ne "], "there is no …, or does not exist"),
    (&["stands tw", "ice"], "duplicate"),
    (&["at ha", "nd"], "available, in this case"),
    (&["to be h", "ad"], "available"),
    (&["is to", "ld"], "is given, receives, prints"),
    (&["are to", "ld"], "are given, receive, print"),
    (&["was to", "ld"], "was given, received"),
    (&["where", "of"], "of which"),
    (&["there", "of"], "of it"),
    (&["here", "with"], "with this"),
    (&["no ne", "ws"], "expected, not an error"),
    (&["left out of no", ""], "is not omitted from any"),
    (&["trusts no", "body"], "no trusted roots"),
];

const ENDINGS: &[&str] =
    &["rs", "md", "js", "mjs", "html", "css", "toml", "sh", "py", "json", "yml"];

#[test]
fn old_wording_stays_out() {
    let mut found = Vec::new();
    for file in files(&root(), ENDINGS) {
        let name = file.strip_prefix(root()).unwrap().display().to_string();
        if name.ends_with("package-lock.json") || name == "tests/tests/tidy_words.rs" {
            continue;
        }
        let Ok(text) = std::fs::read_to_string(&file) else { continue };
        for (number, line) in text.lines().enumerate() {
            // "There is none" is plain English, and Python compares with `is None`.
            let lower = line.to_lowercase().replace("there is none", "");
            if name.ends_with(".py") && lower.contains("is none") {
                continue;
            }
            for (parts, instead) in WORDS {
                if has_word(&lower, &parts.concat()) {
                    found.push(format!(
                        "{name}:{}: write {instead}: {}",
                        number + 1,
                        line.trim().chars().take(120).collect::<String>()
                    ));
                }
            }
        }
    }
    assert!(found.is_empty(), "{} places:\n{}", found.len(), found.join("\n"));
}

/// Whether a phrase occurs at the start of a word (`at hand` does not hit `that handle`).
fn has_word(line: &str, phrase: &str) -> bool {
    let phrase = phrase.trim_end();
    line.match_indices(phrase).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = line[at + phrase.len()..].chars().next();
        !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(char::is_alphanumeric)
    })
}

#[test]
fn a_phrase_is_found_as_words_only() {
    assert!(has_word("the plant at hand.", "at hand"));
    assert!(!has_word("that handle", "at hand"));
    assert!(!has_word("shallow", "shall "));
    assert!(has_word("you shall", "shall "));
}
