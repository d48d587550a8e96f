//! Names as people write them: misspellings, older names, abbreviations, hybrids.

use guardcell::reference::{
    NameKind, Opens, Pathway, Taxon, Trait, genera, names, resolve, species_records,
};

/// Numbers for the seeded slips: the 64-bit generator of Knuth, D. E., The Art of Computer
/// Programming 2, §3.3.4, table 1, line 26 (multiplier 6364136223846793005).
struct Slips(u64);

impl Slips {
    fn below(&mut self, n: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % n
    }

    /// One letter dropped, added, changed or swapped with its neighbour.
    fn slip(&mut self, word: &str) -> String {
        let mut letters: Vec<char> = word.chars().collect();
        let letter = char::from(b'a' + self.below(26) as u8);
        let at = self.below(letters.len());
        match self.below(4) {
            0 => drop(letters.remove(at)),
            1 => letters.insert(at, letter),
            2 => letters[at] = letter,
            _ if letters.len() == 1 => letters.push(letter),
            _ if at > 0 => letters.swap(at - 1, at),
            _ => letters.swap(0, 1),
        }
        letters.into_iter().collect()
    }
}

/// Every name a label may carry today: accepted genera and hybrid genera.
fn labels() -> Vec<&'static str> {
    let hybrids = names().iter().filter(|n| n.kind == NameKind::Nothogenus).map(|n| n.name);
    genera().iter().map(|g| g.name).chain(hybrids).collect()
}

fn is(taxon: Taxon, name: &str) -> bool {
    taxon.name().trim_start_matches('×') == name
}

/// Right in first place, wrong but flagged, not found, silently wrong: out of 500.
fn corrupted(edits: usize, seed: u64) -> (usize, usize, usize, Vec<String>) {
    let labels = labels();
    let mut slips = Slips(seed);
    let (mut right, mut flagged, mut missed, mut silent) = (0, 0, 0, Vec::new());
    let mut tried = 0;
    while tried < 500 {
        let name = labels[slips.below(labels.len())];
        let mut written = name.to_lowercase();
        for _ in 0..edits {
            written = slips.slip(&written);
        }
        // A slip that changes nothing, or makes another name of the tables, is not a misspelling.
        let is_name = |n: &str| n.eq_ignore_ascii_case(&written);
        let is_short = |s: &str| s.trim_end_matches('.').eq_ignore_ascii_case(&written);
        if is_name(name)
            || genera().iter().any(|g| is_name(g.name))
            || names()
                .iter()
                .any(|n| is_name(n.name) || is_short(n.name) || is_short(n.abbreviation))
        {
            continue;
        }
        tried += 1;
        let answer = resolve(&written);
        match (answer.found, answer.candidates.first()) {
            (Some(f), _) if is(f.taxon, name) && f.corrected_to().is_some() => right += 1,
            (None, Some(c)) if is(c.taxon, name) => right += 1,
            (Some(f), _) if f.corrected_to().is_none() => {
                silent.push(format!("{written} ({name}) → {}", f.taxon.name()));
            }
            (Some(f), _) => {
                flagged += 1;
                println!("  {written} ({name}) taken for {}", f.taxon.name());
            }
            (None, first) => {
                missed += 1;
                println!("  {written} ({name}) first {:?}", first.map(|c| c.taxon.name()));
            }
        }
    }
    (right, flagged, missed, silent)
}

#[test]
fn names_with_one_slip_are_found() {
    let (right, flagged, missed, silent) = corrupted(1, 20_260_621);
    println!(
        "one slip: {right} of 500 right in first place, {flagged} wrong but flagged, {missed} not found"
    );
    assert!(silent.is_empty(), "silently wrong: {silent:?}");
    assert!(right * 100 >= 500 * 97, "{right} of 500");
}

#[test]
fn names_with_two_slips_are_found_or_flagged() {
    let (right, flagged, missed, silent) = corrupted(2, 20_261_221);
    println!(
        "two slips: {right} of 500 right in first place, {flagged} wrong but flagged, {missed} not found"
    );
    assert!(silent.is_empty(), "silently wrong: {silent:?}");
    assert!(right * 100 >= 500 * 90, "{right} of 500");
}

#[test]
fn every_name_resolves_to_itself() {
    for g in genera() {
        for written in [g.name.to_owned(), g.name.to_uppercase(), format!("  {} sp. ", g.name)] {
            let found = resolve(&written).found.expect(&written);
            assert!(is(found.taxon, g.name), "{written}");
            assert_eq!(found.corrected_to(), None);
        }
    }
    for n in names().iter().filter(|n| n.kind == NameKind::Nothogenus) {
        for written in [
            n.name.to_owned(),
            format!("× {}", n.name),
            format!("x {}", n.name),
            format!("×{}", n.name),
        ] {
            let found = resolve(&written).found.expect(&written);
            assert!(is(found.taxon, n.name), "{written}");
        }
    }
    for r in species_records().iter().filter(|r| !r.epithet.starts_with("sp.")) {
        let written = format!("{} {}", r.genus, r.epithet);
        let answer = resolve(&written);
        let found = answer.found.expect(&written);
        assert_eq!(found.taxon.name(), written);
    }
}

#[test]
fn every_synonym_leads_to_its_genera() {
    for n in names().iter().filter(|n| n.kind == NameKind::Synonym) {
        let answer = resolve(n.name);
        let wanted: Vec<&str> = n.genera().map(|g| g.name).collect();
        if let [only] = wanted[..] {
            let found = answer.found.expect(n.name);
            assert!(is(found.taxon, only), "{}", n.name);
        } else {
            assert!(answer.is_ambiguous(), "{}", n.name);
            let shown: Vec<String> = answer.candidates.iter().map(|c| c.taxon.name()).collect();
            assert_eq!(shown.len(), wanted.len(), "{}: {shown:?}", n.name);
        }
    }
}

/// Older names as accepted by the 2015 family classification: Chase, M. W. et al. (2015) An
/// updated classification of Orchidaceae. Botanical Journal of the Linnean Society 177:151–174.
#[test]
fn well_known_older_names() {
    for (old, accepted) in [
        ("Sophronitis", "Cattleya"),
        ("Neofinetia", "Vanda"),
        ("Ascocentrum", "Vanda"),
        ("Doritis", "Phalaenopsis"),
        ("Sigmatostalix", "Oncidium"),
        ("Ada", "Brassia"),
    ] {
        let found = resolve(old).found.expect(old);
        assert!(is(found.taxon, accepted), "{old} → {}", found.taxon.name());
        assert_eq!(found.via.map(|n| n.name), Some(old));
    }
}

#[test]
fn a_hybrid_inherits_and_shows_disagreement() {
    let mut mixed = 0;
    for n in names().iter().filter(|n| n.kind == NameKind::Nothogenus) {
        let pathways: Vec<Pathway> = n.genera().map(|g| g.traits.pathway).collect();
        let has = |p| pathways.contains(&p);
        let expected = if has(Pathway::Unknown) {
            Pathway::Unknown
        } else if pathways.windows(2).all(|w| w[0] == w[1]) {
            pathways[0]
        } else {
            Pathway::Variable
        };
        assert_eq!(n.traits.pathway, expected, "{}", n.name);
        if has(Pathway::C3) && has(Pathway::Cam) && !has(Pathway::Unknown) {
            mixed += 1;
            assert_eq!(n.traits.opens, Opens::Either, "{}", n.name);
        }
        // The library's own rule for two parents says the same.
        let parents: Vec<Trait> = n.genera().map(|g| g.traits).collect();
        if let [a, b] = parents[..] {
            let cross = Trait::cross(a, b);
            assert_eq!(
                (cross.pathway, cross.opens, cross.leaf),
                (n.traits.pathway, n.traits.opens, n.traits.leaf)
            );
            assert_eq!(
                cross.sources.iter().collect::<Vec<_>>(),
                n.traits.sources.iter().collect::<Vec<_>>()
            );
        }
    }
    assert!(mixed > 0, "no hybrid of a C3 and a CAM genus in the tables");
}

#[test]
fn any_text_gets_an_answer() {
    for text in [
        "",
        " ",
        "×",
        "x",
        ".",
        "'",
        "Ω",
        "蘭科",
        "\u{0}",
        "🌱",
        "a",
        "C",
        "C.",
        "C. .",
        "x x x",
        "Cattleya ×",
        "× ×",
        "'Fern'",
        "12",
        "Cattleya\u{301}",
        "-",
    ] {
        let _ = resolve(text).traits();
    }
    let long = "Cattleya ".repeat(10_000);
    let _ = resolve(&long);
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig {
        failure_persistence: None,
        ..Default::default()
    })]

    #[test]
    fn no_text_panics(text in "\\PC{0,60}") {
        let answer = resolve(&text);
        proptest::prop_assert!(answer.candidates.len() < 40);
    }
}
