//! Traits of genera and species: what their grades promise, how an answer is put together, and the
//! genera for which the rule by leaf misleads.

use guardcell::Code;
use guardcell::reference::{
    GenusRequest, GenusResponse, Grade, Habit, Leaf, NameKind, Opens, Outcome, Pathway, Rank,
    genera, genus, names, report, resolve, species, species_records,
};

fn ask(query: &str) -> GenusResponse {
    report(&GenusRequest::new(query)).expect(query)
}

/// Genera whose leaf misleads: thick or terete but C3, thin but CAM, or leafless. Whoever changes
/// a row so that a genus enters or leaves this list should know it.
const LEAF_MISLEADS: &[&str] = &[
    "Ceratostylis",
    "Chauliodon",
    "Chiloschista",
    "Dendrophylax",
    "Dresslerella",
    "Echinosepala",
    "Masdevallia",
    "Mediocalcar",
    "Microcoelia",
    "Oxystophyllum",
    "Phloeophila",
    "Platystele",
    "Restrepiella",
    "Saccolabium",
    "Taeniophyllum",
    "Taeniorrhiza",
];

#[test]
fn genera_where_anatomy_and_pathway_disagree() {
    let found: Vec<&str> =
        genera().iter().filter(|g| g.contradicts_leaf_rule()).map(|g| g.name).collect();
    println!("{found:#?}");
    for g in genera().iter().filter(|g| g.contradicts_leaf_rule()) {
        let notes = g.notes.to_lowercase();
        assert!(
            ["thick", "terete", "thin", "leafless"].iter().any(|w| notes.contains(w)),
            "{}: leaf {} and pathway {} disagree; its notes should say so",
            g.name,
            g.traits.leaf,
            g.traits.pathway
        );
    }
    assert_eq!(found, LEAF_MISLEADS);
}

#[test]
fn grades_mean_what_they_say() {
    for g in genera() {
        let t = g.traits;
        if t.grade >= Grade::Reported {
            assert!(!t.sources.is_empty(), "{} names no source", g.name);
        }
        assert_eq!(t.pathway == Pathway::Unknown, t.grade == Grade::Unknown, "{}", g.name);
        if let Some(share) = t.cam_share {
            assert!(share.cam <= share.measured, "{}", g.name);
            match t.pathway {
                Pathway::Cam => assert!(share.cam > 0, "{}", g.name),
                Pathway::C3 => assert!(share.cam < share.measured, "{}", g.name),
                _ => {}
            }
        }
    }
    for r in species_records() {
        if r.grade == Grade::Measured {
            assert!(r.d13c.is_some() || r.acid_rise.is_some() || !r.method.is_empty());
        }
        assert!(!r.sources.is_empty(), "{} {}", r.genus, r.epithet);
        if let Some(d) = r.d13c {
            assert!((-40.0..=-8.0).contains(&d.permil()), "{} {}", r.genus, r.epithet);
        }
    }
}

/// The scope set for the tables: about 736 genera in Chase et al. 2015 (Botanical Journal of the
/// Linnean Society 177:151–174), 300 hybrid genera, 600 species records.
#[test]
fn the_tables_are_as_wide_as_they_should_be() {
    assert!(genera().len() >= 730, "{} genera", genera().len());
    assert!(species_records().len() >= 600);
    let hybrids = names().iter().filter(|n| n.kind == NameKind::Nothogenus).count();
    assert!(hybrids >= 300, "{hybrids} hybrid genera");
    let known = genera()
        .iter()
        .filter(|g| g.has_evidence() && g.traits.leaf_grade >= Grade::Reported)
        .count();
    assert!(known >= 200, "{known} genera with leaf and pathway better than inferred");
}

#[test]
fn a_species_record_goes_before_its_genus() {
    let mut overridden = 0;
    for s in species().iter().filter(|s| !s.epithet.starts_with("sp.")) {
        let name = format!("{} {}", s.genus().name, s.epithet);
        let answer = ask(&name);
        if s.traits.grade == Grade::Unknown {
            assert!(answer.evidence.grade <= Grade::Inferred, "{name}");
            continue;
        }
        assert_eq!(answer.pathway, s.traits.pathway, "{name}");
        assert!(!answer.records.is_empty(), "{name}");
        if s.genus().traits.pathway == Pathway::Variable && s.traits.pathway != Pathway::Variable {
            overridden += 1;
            assert!(answer.message.contains("overrides the genus"), "{name}: {}", answer.message);
        }
    }
    println!("{overridden} species of variable genera have an answer of their own");
    assert!(overridden > 50);
}

#[test]
fn a_species_of_a_variable_genus_without_record_gets_the_leaf_hint() {
    let g = genera()
        .iter()
        .find(|g| g.traits.pathway == Pathway::Variable && g.traits.leaf == Leaf::Variable)
        .expect("a genus with variable pathway and leaf");
    let query = format!("{} fernhollowensis", g.name);
    let answer = ask(&query);
    assert_eq!(
        (answer.rank, answer.pathway, answer.opens),
        (Rank::Species, Pathway::Variable, Opens::Either)
    );
    assert!(answer.evidence.grade <= Grade::Inferred);
    let rule = answer.fallback.expect("the rule by leaf");
    assert_eq!((rule.opens, rule.leaf), (Opens::Unknown, None));
    let with_leaf = report(&GenusRequest::new(query).with_leaf(Leaf::Thick)).unwrap();
    let rule = with_leaf.fallback.expect("the rule by leaf");
    assert_eq!((rule.opens, rule.grade), (Opens::Night, Grade::Inferred));
    // The leaf does not change the answer by name.
    assert_eq!(with_leaf.pathway, Pathway::Variable);
}

#[test]
fn leafless_orchids_have_no_leaf_opening() {
    let mut some = 0;
    for g in genera().iter().filter(|g| g.traits.leafless) {
        if g.habit == Habit::Mycoheterotroph {
            assert!(ask(g.name).message.contains("no leaf to feed"), "{}", g.name);
            continue;
        }
        some += 1;
        let answer = ask(g.name);
        assert_eq!(answer.opens, Opens::Unknown, "{}", g.name);
        assert!(
            answer.leafless && answer.message.contains("no leaf opening"),
            "{}",
            answer.message
        );
    }
    assert!(some > 0);
}

#[test]
fn an_unknown_name_says_so_and_offers_the_leaf() {
    let answer = ask("Zzyzxia maxima");
    assert_eq!((answer.outcome, answer.pathway), (Outcome::Unknown, Pathway::Unknown));
    assert_eq!(answer.name, None);
    assert!(answer.message.contains("unknown"), "{}", answer.message);
    let rule = answer.fallback.expect("the rule by leaf");
    assert!(rule.message.contains("Rule of thumb"));
    // Counted from species of which both leaf and isotope ratio were measured.
    let rate = rule.hit_rate.expect("a hit rate");
    println!("rule by leaf: {:.1} % of {} species", 100.0 * rate, rule.measured_species);
    assert!((0.75..0.95).contains(&rate), "{rate}");
    assert!(!rule.sources.is_empty());
}

#[test]
fn every_cited_work_is_known() {
    for g in genera().iter().filter(|g| g.has_evidence()) {
        let answer = ask(g.name);
        let mut keys = answer.evidence.sources.clone();
        keys.extend(answer.evidence.leaf_sources.clone());
        keys.sort();
        keys.dedup();
        assert_eq!(answer.evidence.works.len(), keys.len(), "{}", g.name);
    }
}

#[test]
fn the_wire_form_keeps_its_names() {
    let json = serde_json::to_value(ask("Dendrobium")).unwrap();
    for key in ["query", "name", "rank", "pathway", "opens", "evidence", "leaf", "d13c_permil"] {
        assert!(json.get(key).is_some(), "{key}");
    }
    assert!(json["evidence"]["grade"].is_string() && json["evidence"]["sources"].is_array());
    assert_eq!(json["rank"], "genus");
    let back: GenusResponse = serde_json::from_value(json).unwrap();
    assert_eq!(back, ask("Dendrobium"));
    let extra = serde_json::from_str::<GenusRequest>(r#"{"query": "Vanda", "leafs": "thin"}"#);
    assert!(extra.unwrap_err().to_string().contains("leafs"));
}

#[test]
fn faulty_requests_name_the_place() {
    let blank = report(&GenusRequest::new("  ")).unwrap_err();
    assert_eq!((blank.code(), blank.pointer()), (Code::Missing, "/query"));
    // The bound itself is accepted, the next length is not.
    assert!(report(&GenusRequest::new("a".repeat(200))).is_ok());
    let long = report(&GenusRequest::new("a".repeat(201))).unwrap_err();
    assert_eq!((long.code(), long.pointer()), (Code::TooLong, "/query"));
}

#[test]
fn a_divided_genus_lists_its_parts() {
    let divided = names()
        .iter()
        .find(|n| n.kind == NameKind::Synonym && n.genera().len() > 1)
        .expect("a divided genus");
    let answer = ask(divided.name);
    assert_eq!(answer.outcome, Outcome::Ambiguous);
    assert!(answer.candidates.len() > 1);
    for c in &answer.candidates {
        assert!(genus(&c.name).is_some(), "{}", c.name);
        assert!(answer.message.contains(&c.name));
    }
}

#[test]
fn a_cross_of_c3_and_cam_shows_both() {
    let pick = |p| {
        genera()
            .iter()
            .find(|g| {
                g.traits.pathway == p && g.traits.grade == Grade::Measured && !g.traits.leafless
            })
            .expect("such a genus")
    };
    let (c3, cam) = (pick(Pathway::C3), pick(Pathway::Cam));
    for sign in ["×", "x", "X"] {
        let query = format!("{} {sign} {}", c3.name, cam.name);
        let answer = ask(&query);
        assert_eq!((answer.pathway, answer.opens), (Pathway::Variable, Opens::Either), "{query}");
        assert_eq!(answer.parents.len(), 2);
        assert!(answer.message.contains("do not agree"), "{}", answer.message);
        let sources: Vec<&str> = answer.evidence.sources.iter().map(String::as_str).collect();
        for s in c3.traits.sources.iter().chain(cam.traits.sources.iter()) {
            assert!(sources.contains(&s), "{s} is missing");
        }
    }
    assert!(
        resolve(&format!("{} × {}", c3.name, cam.name)).found.unwrap().traits().grade
            == Grade::Inferred
    );
}

/// Terms of the Darwin Core quick reference guide (<https://dwc.tdwg.org/terms/>, classes Taxon and
/// MeasurementOrFact) and of Dublin Core.
#[test]
fn the_export_uses_darwin_core_terms() {
    use guardcell::reference::darwin_core::{COLUMNS, header, measurements};
    const TERMS: &[&str] = &[
        "measurementID",
        "measurementType",
        "measurementValue",
        "measurementUnit",
        "measurementMethod",
        "measurementRemarks",
        "scientificName",
        "family",
        "genus",
        "specificEpithet",
        "taxonRank",
        "bibliographicCitation",
        "datasetName",
    ];
    for column in COLUMNS {
        assert!(TERMS.contains(&column), "{column}");
    }
    // What is written reads back as CSV, cell by cell.
    let mut text = header();
    for m in measurements() {
        text.push('\n');
        text.push_str(&m.csv_line());
    }
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut rows = 0;
    for (row, m) in reader.records().zip(measurements()) {
        let row = row.unwrap();
        assert!(row.iter().eq(m.cells.iter().map(AsRef::as_ref)), "{row:?}");
        assert!(!m.get("measurementType").is_empty() && !m.get("measurementValue").is_empty());
        assert!(matches!(m.get("taxonRank"), "genus" | "species"));
        rows += 1;
    }
    assert_eq!(rows, measurements().count());
    let values = species_records().iter().filter(|r| r.d13c.is_some()).count();
    let exported = measurements().filter(|m| m.get("measurementType") == "delta 13C").count();
    assert_eq!(values, exported);
}
