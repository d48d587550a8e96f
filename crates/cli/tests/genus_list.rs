//! `genus --list` and `genus --all`.
#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod batch_folder;
mod run;

use batch_folder::Folder;
use run::guardcell;

#[test]
fn a_list_says_for_each_name_what_it_is_taken_for() {
    let folder = Folder::new();
    folder.write(
        "names.txt",
        "Encyclia cochleata\n\nCatleya\nBegonia\r\n  C. labiata \nZzyzxia nova\n",
    );
    let path = folder.path("names.txt");
    let out = guardcell(&["genus", "--list", path.to_str().unwrap()]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    let lines: Vec<&str> = out.stdout.lines().collect();
    assert_eq!(lines.len(), 6, "{}", out.stdout);
    assert!(lines[0].contains("Prosthechea cochleata: c3 (measured), opens day"), "{}", lines[0]);
    assert!(lines[1].contains("Cattleya") && lines[1].contains("check the spelling"));
    assert!(lines[2].contains("not an orchid"), "{}", lines[2]);
    assert!(lines[3].contains("Cattleya labiata"), "{}", lines[3]);
    assert!(lines[4].contains("not known"), "{}", lines[4]);
    assert_eq!(lines[5], "5 names, 3 to check");
}

#[test]
fn a_list_in_json_has_an_answer_a_name() {
    let folder = Folder::new();
    folder.write("names.txt", "Vanda\nPhalaenopsis amabilis\n");
    let path = folder.path("names.txt");
    let out = guardcell(&["--json", "genus", "--list", path.to_str().unwrap()]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    let answers: serde_json::Value = serde_json::from_str(&out.stdout).unwrap();
    assert_eq!(answers.as_array().unwrap().len(), 2);
    assert_eq!(answers[1]["name"], "Phalaenopsis amabilis");
}

#[test]
fn every_taxon_is_exported_with_the_version() {
    let out = guardcell(&["genus", "--all", "--format", "csv"]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    let mut reader = csv::Reader::from_reader(out.stdout.as_bytes());
    let header = reader.headers().unwrap().clone();
    let at = |name: &str| header.iter().position(|h| h == name).unwrap();
    let (p, version) = (["p_c3", "p_weak_cam", "p_cam"].map(at), at("dataset_version"));
    let mut rows = 0;
    for row in reader.records() {
        let row = row.unwrap();
        assert!(!row[version].is_empty());
        let shares: Vec<f64> = p.iter().filter_map(|&i| row[i].parse().ok()).collect();
        assert!(shares.is_empty() || (shares.iter().sum::<f64>() - 1.0).abs() < 0.002, "{row:?}");
        rows += 1;
    }
    let json = guardcell(&["genus", "--all", "--format", "json"]);
    let taxa: serde_json::Value = serde_json::from_str(&json.stdout).unwrap();
    assert_eq!(taxa.as_array().unwrap().len(), rows);
    assert!(rows > 2000, "{rows} rows");
    assert_ne!(guardcell(&["genus", "--all", "--format", "xml"]).code, 0);
}
