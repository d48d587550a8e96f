//! Names as they are written on labels: species under other names, crosses, abbreviations, common
//! names, and plants that are no orchids.

use guardcell::reference::{
    GenusRequest, GenusResponse, Grade, NameEvidence, Outcome, Pathway, Rank, report, resolve,
    species_names, species_records,
};

fn ask(query: &str) -> GenusResponse {
    report(&GenusRequest::new(query)).expect(query)
}

/// Silvera, K. et al. (2010) Botanical Journal of the Linnean Society 163: 194–222 measured
/// Prosthechea cochleata as C3; the species was long known as Encyclia cochleata.
#[test]
fn a_species_under_its_older_name_has_its_own_record() {
    for written in ["Encyclia cochleata", "Epidendrum cochleatum", "encyclia COCHLEATA"] {
        let answer = ask(written);
        assert_eq!(answer.name.as_deref(), Some("Prosthechea cochleata"), "{written}");
        assert_eq!((answer.pathway, answer.evidence.grade), (Pathway::C3, Grade::Measured));
        assert!(answer.via.is_some(), "{written}");
    }
    for (old, accepted) in [
        ("Dendrobium phalaenopsis", "Dendrobium bigibbum"),
        ("Oncidium cebolleta", "Trichocentrum cebolleta"),
        ("Oncidium lanceanum", "Trichocentrum lanceanum"),
        ("Oncidium ampliatum", "Rossioglossum ampliatum"),
        ("Vanilla fragrans", "Vanilla planifolia"),
        ("Eria velutina", "Trichotosia velutina"),
        ("Coelogyne imbricata", "Pholidota imbricata"),
        ("Onc. lanceanum", "Trichocentrum lanceanum"),
    ] {
        assert_eq!(ask(old).name.as_deref(), Some(accepted), "{old}");
    }
}

#[test]
fn every_name_printed_in_a_source_reaches_its_record() {
    let mut missed = Vec::new();
    for r in species_records().iter().filter(|r| !r.verbatim_name.is_empty()) {
        let determined = |e: &str| !e.starts_with("sp") && !e.starts_with("cf");
        let Some(epithet) = r.verbatim_name.split_whitespace().nth(1) else { continue };
        if !determined(epithet) || r.epithet.starts_with("sp.") {
            continue;
        }
        let wanted = format!("{} {}", r.genus, r.epithet);
        let found = resolve(r.verbatim_name).found.map(|f| f.taxon.name());
        if found.as_deref() != Some(&wanted) {
            missed.push(format!("{} → {found:?}, not {wanted}", r.verbatim_name));
        }
    }
    assert!(missed.is_empty(), "{} missed: {missed:#?}", missed.len());
}

#[test]
fn every_species_name_leads_to_its_species() {
    for n in species_names() {
        let answer = ask(n.name);
        let own = resolve(n.name).found.is_some_and(|f| f.taxon.name() == n.name);
        assert!(own || answer.name == Some(n.accepted()), "{} → {:?}", n.name, answer.name);
        // What is entered from memory never counts as measured knowledge of the synonymy.
        if let Some(via) = answer.via {
            let from_memory = NameEvidence::FromMemory;
            assert!(n.evidence != from_memory || via.evidence == from_memory, "{}", n.name);
        }
    }
}

#[test]
fn an_epithet_is_not_joined_to_a_genus_without_a_record() {
    for (written, genus) in [("Haraella mirabilis", "Gastrochilus"), ("Ascocentrum novum", "Vanda")]
    {
        let answer = ask(written);
        assert_eq!((answer.name.as_deref(), answer.rank), (Some(genus), Rank::Genus), "{written}");
        assert!(answer.evidence.grade <= Grade::Inferred);
    }
}

#[test]
fn other_plants_are_no_orchids() {
    for written in ["Begonia", "Nepenthes alata", "drosera", "Hoya sp.", "Tillandsia ionantha"] {
        let answer = ask(written);
        assert_eq!(answer.outcome, Outcome::NotAnOrchid, "{written}");
        assert_eq!((answer.name, answer.pathway), (None, Pathway::Unknown));
        assert!(answer.message.contains("not an orchid"), "{}", answer.message);
        assert!(answer.candidates.is_empty() && answer.fallback.is_none());
    }
    // A hybrid genus is not corrected to a genus with a similar name.
    assert_eq!(ask("Gomada").name.as_deref(), Some("×Gomada"));
    // Two changes in a short word are another name rather than a slip: offered, not taken.
    let unsure = ask("Odontia");
    assert_eq!(unsure.outcome, Outcome::Ambiguous);
    assert!(unsure.candidates.iter().any(|c| c.name == "×Odontioda"));
    assert_eq!(ask("Orchid").outcome, Outcome::Unknown);
}

/// Genera that were divided, in their broad sense: the Brazilian species of Laelia are now Cattleya
/// (Flora e Funga do Brasil), Dracula was divided from Masdevallia, Prosthechea from Encyclia,
/// Acianthera from Pleurothallis, Trichocentrum and Gomesa from Oncidium (the same, and NCBI
/// Taxonomy). Linnaean uses of Epidendrum, such as that for Vanda, are no part of it.
#[test]
fn a_genus_in_its_broad_sense_is_the_union_of_its_parts() {
    for (written, parts) in [
        ("Laelia s.l.", &["Laelia", "Cattleya", "Rhyncholaelia"][..]),
        ("Masdevallia sensu lato", &["Masdevallia", "Dracula"][..]),
        ("Encyclia s.l.", &["Encyclia", "Prosthechea"][..]),
        ("Pleurothallis s.l.", &["Pleurothallis", "Acianthera", "Stelis"][..]),
        ("Oncidium s. l.", &["Oncidium", "Trichocentrum", "Gomesa"][..]),
        ("Epidendrum s.l.", &["Epidendrum", "Encyclia", "Prosthechea"][..]),
    ] {
        let answer = ask(written);
        assert_eq!(answer.outcome, Outcome::Ambiguous, "{written}");
        for part in parts {
            assert!(answer.candidates.iter().any(|c| c.name == *part), "{written}: {part}");
        }
        assert!(answer.candidates.iter().all(|c| c.name != "Vanda" && c.name != "Cymbidium"));
    }
    // Its parts are of both kinds, so the union is; where all parts are CAM, it is CAM.
    assert_eq!(ask("Encyclia s.l.").pathway, Pathway::Variable);
    assert_eq!(ask("Laelia s.l.").pathway, Pathway::Cam);
    // A species under the old genus is still found by its own name.
    assert_eq!(ask("Encyclia s.l. cochleata").name.as_deref(), Some("Prosthechea cochleata"));
}

#[test]
fn labels_are_read_as_growers_write_them() {
    for (written, name) in [
        ("Dendrobium (nobile)", "Dendrobium nobile"),
        ("Den. (Dendrobium) nobile", "Dendrobium nobile"),
        ("Dendrobium nobile (pink form)", "Dendrobium nobile"),
        ("Phalaenopsis s.l.", "Phalaenopsis"),
        ("Dendrobium sensu lato", "Dendrobium"),
        ("NoID Phal", "Phalaenopsis"),
        ("Unknown Cattleya", "Cattleya"),
        ("mixed phals", "Phalaenopsis"),
        ("phals", "Phalaenopsis"),
        ("Cattleyas", "Cattleya"),
        ("moth orchid", "Phalaenopsis"),
        ("Equitant", "Tolumnia"),
    ] {
        assert_eq!(ask(written).name.as_deref(), Some(name), "{written}");
    }
    // A cross within a genus is neither of its parents.
    let cross = ask("Phal. schilleriana x stuartiana");
    assert_eq!(cross.name.as_deref(), Some("Phalaenopsis"));
    assert!(cross.evidence.grade <= Grade::Inferred);
    assert_eq!(ask("P. amabilis").name.as_deref(), Some("Phalaenopsis amabilis"));
    assert!(ask("P. amabilis").corrected_to.is_some());
    let slipper = ask("slipper orchid");
    assert_eq!((slipper.outcome, slipper.candidates.len()), (Outcome::Ambiguous, 3));
}
