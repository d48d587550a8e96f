//! `cargo xtask data dwca`: the tables as a Darwin Core Archive.
//!
//! The core holds taxa (accepted genera, species with records, names of genera and species that are
//! synonyms), the extension holds measurements. Format: Darwin Core text guide
//! (<https://dwc.tdwg.org/text/>); the metadata follow the profile of the Ecological Metadata
//! Language that the Global Biodiversity Information Facility reads.

use super::zip::Zip;
use guardcell::reference::darwin_core::{self, measurements};
use guardcell::reference::export::VERSION;
use guardcell::reference::{NameKind, genera, names, species, species_names};
use std::collections::BTreeSet;
use std::fmt::Write as _;

const DWC: &str = "http://rs.tdwg.org/dwc/terms/";
/// The columns of the core.
const TAXON: [&str; 13] = [
    "taxonID",
    "acceptedNameUsageID",
    "scientificName",
    "family",
    "subfamily",
    "tribe",
    "subtribe",
    "genus",
    "specificEpithet",
    "taxonRank",
    "taxonomicStatus",
    "nomenclaturalCode",
    "datasetName",
];

/// The archive as bytes of a ZIP file.
pub(crate) fn archive() -> Vec<u8> {
    let mut zip = Zip::default();
    zip.add("meta.xml", meta().as_bytes());
    zip.add("eml.xml", eml().as_bytes());
    zip.add("taxon.csv", taxa().as_bytes());
    zip.add("measurement.csv", measured().as_bytes());
    zip.finish()
}

fn id(name: &str) -> String {
    name.to_lowercase().replace(|c: char| !c.is_ascii_alphanumeric(), "-")
}

fn line(cells: &[&str]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory cannot fail.
    let _ = writer.write_record(cells);
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

fn taxa() -> String {
    let mut text = line(&TAXON);
    let mut ids = BTreeSet::new();
    let mut add =
        |id: String, accepted: &str, name: &str, place: [&str; 3], parts: (&str, &str)| {
            if !ids.insert(id.clone()) {
                return;
            }
            let rank = if parts.1.is_empty() { "genus" } else { "species" };
            let status = if id == accepted { "accepted" } else { "synonym" };
            text.push_str(&line(&[
                &id,
                accepted,
                name,
                "Orchidaceae",
                place[0],
                place[1],
                place[2],
                parts.0,
                parts.1,
                rank,
                status,
                "ICN",
                darwin_core::DATASET,
            ]));
        };
    for g in genera() {
        let of = id(g.name);
        add(of.clone(), &of, g.name, [g.subfamily, g.tribe, g.subtribe], (g.name, ""));
    }
    for s in species() {
        let g = s.genus();
        let name = format!("{} {}", g.name, s.epithet);
        let of = id(&name);
        let place = [g.subfamily, g.tribe, g.subtribe];
        add(of.clone(), &of, &name, place, (g.name, s.epithet));
    }
    for n in names().iter().filter(|n| n.kind == NameKind::Synonym) {
        let mut parts = n.genera();
        // A divided genus is a synonym of none of its parts alone.
        if let (Some(g), None) = (parts.next(), parts.next()) {
            let place = [g.subfamily, g.tribe, g.subtribe];
            add(id(n.name), &id(g.name), n.name, place, (n.name, ""));
        }
    }
    let core: BTreeSet<String> =
        species().iter().map(|s| id(&format!("{} {}", s.genus().name, s.epithet))).collect();
    for n in species_names() {
        let Some((genus, epithet)) = n.name.split_once(' ') else { continue };
        let accepted = id(&n.accepted());
        // Only names of species that are themselves in the core.
        if core.contains(&accepted) {
            add(id(n.name), &accepted, n.name, ["", "", ""], (genus, epithet));
        }
    }
    text
}

fn measured() -> String {
    let mut text = format!("coreid,{}\n", darwin_core::header());
    for m in measurements() {
        let _ = writeln!(text, "{},{}", id(m.get("scientificName")), m.csv_line());
    }
    text
}

fn meta() -> String {
    let files = "encoding=\"UTF-8\" fieldsTerminatedBy=\",\" linesTerminatedBy=\"\\n\" \
                 fieldsEnclosedBy=\"&quot;\" ignoreHeaderLines=\"1\"";
    let field = |i: usize, term: &str| {
        let space = match term {
            "bibliographicCitation" => "http://purl.org/dc/terms/",
            _ => DWC,
        };
        format!("    <field index=\"{i}\" term=\"{space}{term}\"/>\n")
    };
    let core: String = TAXON.iter().enumerate().map(|(i, term)| field(i, term)).collect();
    let extension: String =
        darwin_core::COLUMNS.iter().enumerate().map(|(i, term)| field(i + 1, term)).collect();
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <archive xmlns=\"http://rs.tdwg.org/dwc/text/\" metadata=\"eml.xml\">\n\
         \x20 <core {files} rowType=\"{DWC}Taxon\">\n\
         \x20   <files><location>taxon.csv</location></files>\n    <id index=\"0\"/>\n{core}\
         \x20 </core>\n\
         \x20 <extension {files} rowType=\"{DWC}MeasurementOrFact\">\n\
         \x20   <files><location>measurement.csv</location></files>\n    <coreid index=\"0\"/>\n\
         {extension}\
         \x20 </extension>\n</archive>\n"
    )
}

fn eml() -> String {
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <eml:eml xmlns:eml=\"https://eml.ecoinformatics.org/eml-2.2.0\" \
         xmlns:xsi=\"http://www.w3.org/2001/XMLSchema-instance\" \
         xsi:schemaLocation=\"https://eml.ecoinformatics.org/eml-2.2.0 \
         https://eml.ecoinformatics.org/eml-2.2.0/eml.xsd\" \
         packageId=\"guardcell-orchid-traits/{VERSION}\" system=\"guardcell\">\n\
         \x20 <dataset>\n\
         \x20   <title>{title}</title>\n\
         \x20   <creator><organizationName>The guardcell maintainers</organizationName></creator>\n\
         \x20   <abstract><para>Measured leaf delta 13C, leaf thickness and overnight acidity of orchids, \
         one value a row with its source, and the probabilities of C3, weak or facultative CAM and CAM \
         that one declared rule computes from them for every genus and species.</para></abstract>\n\
         \x20   <intellectualRights><para>Creative Commons Attribution 4.0 International \
         (https://creativecommons.org/licenses/by/4.0/)</para></intellectualRights>\n\
         \x20   <contact><organizationName>The guardcell maintainers</organizationName></contact>\n\
         \x20 </dataset>\n</eml:eml>\n",
        title = "Photosynthetic pathway and stomatal opening of Orchidaceae",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn column(text: &str, i: usize) -> Vec<String> {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        reader.records().map(|r| r.expect("a row")[i].to_owned()).collect()
    }

    /// Darwin Core text guide: core identifiers are unique, and each row of an extension belongs to
    /// a row of the core.
    #[test]
    fn every_measurement_belongs_to_a_taxon() {
        let taxa = taxa();
        let ids: BTreeSet<String> = column(&taxa, 0).into_iter().collect();
        assert_eq!(ids.len(), column(&taxa, 0).len());
        for id in column(&measured(), 0).into_iter().chain(column(&taxa, 1)) {
            assert!(ids.contains(&id), "{id}");
        }
        let values = column(&measured(), 1);
        assert_eq!(values.iter().collect::<BTreeSet<_>>().len(), values.len());
    }

    #[test]
    fn the_metafile_names_each_column_once() {
        let meta = meta();
        for term in TAXON.iter().chain(&darwin_core::COLUMNS) {
            assert!(meta.contains(&format!("/{term}\"/>")), "{term}");
        }
        let fields = meta.matches("<field ").count();
        assert_eq!(fields, TAXON.len() + darwin_core::COLUMNS.len());
        assert!(eml().contains(&format!("orchid-traits/{VERSION}")));
    }
}
