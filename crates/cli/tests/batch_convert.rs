//! `batch convert` as a table and as NDJSON beside the verb `convert`, quantity by quantity.
#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod batch_folder;
mod run;

use batch_folder::Folder;
use run::guardcell;
use serde_json::{Value, json};

/// Units of each kind as growers and laboratories write them; each is converted to all of its
/// kind, with numbers in the forms that they are written in.
const KINDS: &[&[&str]] = &[
    &["mg/L P2O5", "ppm P", "g/L P", "oz/100 gal P"],
    &["mg/L NO3", "ppm N", "mmol/L NO3", "meq/L NO3"],
    &["°dH", "mg/L CaCO3", "°fH", "meq/L hardness", "mg/L Ca"],
    &["°dKH", "mg/L CaCO3 alkalinity", "mg/L HCO3 alkalinity", "meq/L alkalinity"],
    &["mS/cm at 18 °C", "mS/cm at 25 °C", "µS/cm", "ppm meter 500", "dS/m"],
    &["°F", "°C", "K", "[degF]"],
    &["gal", "L", "imp gal", "fl oz", "[tsp_us]"],
    &["oz", "g", "lb", "kg"],
    &["% P2O5", "% P", "g/kg P"],
    &["mmHg", "hPa", "kPa"],
    &["ft", "cm", "acres"],
    &["ppm", "% N", "foo", "mg/L feed"],
];
const NUMBERS: &[&str] =
    &["1", "0.5", "120", "7.25", "1,5", "1/2", "3e2", "0", "-4", "15.999999999"];

/// Every quantity with every target of its kind.
fn rows() -> Vec<(String, &'static str)> {
    let mut rows = Vec::new();
    for kind in KINDS {
        for (i, unit) in kind.iter().enumerate() {
            for (j, to) in kind.iter().enumerate() {
                for turn in 0..2 {
                    let number = NUMBERS[(i * 5 + j * 3 + turn * 7 + rows.len()) % NUMBERS.len()];
                    rows.push((format!("{number} {unit}"), *to));
                }
            }
        }
    }
    rows
}

#[test]
fn tables_and_ndjson_answer_as_the_verb_does() {
    let rows = rows();
    assert!(rows.len() > 300, "{}", rows.len());
    let folder = Folder::new();
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(["quantity", "to"]).unwrap();
    let mut lines = String::new();
    for (quantity, to) in &rows {
        table.write_record([quantity.as_str(), to]).unwrap();
        lines.push_str(&json!({ "quantity": quantity, "to": to }).to_string());
        lines.push('\n');
    }
    folder.write("in.csv", table.into_inner().unwrap());
    folder.write("in.ndjson", lines);
    assert_eq!(folder.batch("convert", "in.ndjson", &["--quiet"]).code, 2, "some are refused");
    let answers: Vec<Value> =
        folder.read("out").lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(folder.batch("convert", "in.csv", &["--quiet"]).code, 2, "some are refused");
    let text = folder.read("out");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut answered = reader.records().map(Result::unwrap);
    let mut refused = Vec::new();
    assert_eq!(answers.len(), rows.len());
    for (i, ((quantity, to), answer)) in rows.iter().zip(&answers).enumerate() {
        let said = guardcell(&["--json", "convert", &format!("--to={to}"), "--", quantity]);
        if said.code != 0 {
            assert!(answer.is_null(), "{quantity} to {to}: {}", said.stderr);
            refused.push((i + 1).to_string());
            continue;
        }
        let said: Value = serde_json::from_str(&said.stdout).unwrap();
        assert_eq!(answer, &said, "{quantity} to {to}");
        let row = answered.next().unwrap();
        assert_eq!([&row[0], &row[1]], [quantity.as_str(), to]);
        // A number in a table reads back to the last bit.
        let value: f64 = row[2].parse().unwrap();
        assert_eq!(Some(value), said["value"].as_f64(), "{quantity} to {to}");
        assert_eq!(row[3], *said["unit"].as_str().unwrap());
        assert_eq!(row[4], *said["basis"].as_str().unwrap_or_default());
        let notes: Vec<&str> =
            said["notes"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
        assert_eq!(row[5], notes.join(" | "));
    }
    assert!(answered.next().is_none());
    assert!(refused.len() * 2 < rows.len(), "{} of {}", refused.len(), rows.len());
    let errors = folder.read("out.errors.csv");
    let told: Vec<String> = csv::Reader::from_reader(errors.as_bytes())
        .records()
        .map(|row| row.unwrap()[0].to_owned())
        .collect();
    assert_eq!(told, refused);
}
