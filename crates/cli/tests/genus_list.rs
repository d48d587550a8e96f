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

/// What another reader of Parquet finds: the rows and the columns of the CSV, numbers as numbers.
#[cfg(feature = "tables")]
#[test]
fn parquet_has_the_rows_of_the_csv_with_numbers_as_numbers() {
    use arrow_array::cast::AsArray as _;
    use arrow_array::types::{Float64Type, UInt16Type};
    use arrow_array::{Array as _, RecordBatch};
    use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;

    let folder = Folder::new();
    let path = folder.path("orchids.parquet");
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .args(["genus", "--all", "--format", "parquet"])
        .stdout(std::fs::File::create(&path).unwrap())
        .output()
        .unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let file = std::fs::File::open(&path).unwrap();
    let reader = ParquetRecordBatchReaderBuilder::try_new(file).unwrap();
    let schema = std::sync::Arc::clone(reader.schema());
    let batches: Vec<RecordBatch> = reader.build().unwrap().map(Result::unwrap).collect();
    let read = arrow_select::concat::concat_batches(&schema, &batches).unwrap();

    let out = guardcell(&["genus", "--all", "--format", "csv"]);
    let mut csv = csv::Reader::from_reader(out.stdout.as_bytes());
    let header = csv.headers().unwrap().clone();
    let names: Vec<&str> = schema.fields().iter().map(|f| f.name().as_str()).collect();
    assert_eq!(names, header.iter().collect::<Vec<_>>());
    let rows: Vec<csv::StringRecord> = csv.records().map(Result::unwrap).collect();
    assert_eq!(read.num_rows(), rows.len());
    for (c, name) in names.iter().enumerate() {
        let column = read.column(c);
        for (r, row) in rows.iter().enumerate() {
            let cell = match *name {
                "p_c3" | "p_weak_cam" | "p_cam" => {
                    let of = column.as_primitive::<Float64Type>();
                    if of.is_valid(r) { format!("{:.3}", of.value(r)) } else { String::new() }
                }
                "cam_species" | "measured_species" => {
                    let of = column.as_primitive::<UInt16Type>();
                    if of.is_valid(r) { of.value(r).to_string() } else { String::new() }
                }
                _ => column.as_string::<i32>().value(r).to_owned(),
            };
            assert_eq!(cell, row[c], "{name} of {}", &row[0]);
        }
    }
}

#[test]
fn a_format_that_is_not_known_is_refused_with_those_that_are() {
    let out = guardcell(&["genus", "--all", "--format", "xlsx"]);
    assert_ne!(out.code, 0);
    assert!(out.stderr.contains("parquet"), "{}", out.stderr);
}
