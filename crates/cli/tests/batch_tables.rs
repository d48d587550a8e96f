//! `batch` between CSV, NDJSON, Arrow and Parquet: the same answers, every row in its place, types
//! from the schemas.
#![cfg(feature = "tables")]
#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod batch_folder;
mod run;

use arrow_array::cast::AsArray;
use arrow_array::types::{Float64Type, Int64Type};
use arrow_array::{
    Array, ArrayRef, DictionaryArray, Float64Array, Int64Array, RecordBatch, StringArray,
};
use arrow_ipc::reader::{FileReader, StreamReader};
use arrow_ipc::writer::{FileWriter, StreamWriter};
use arrow_schema::DataType;
use arrow_select::concat::concat_batches;
use batch_folder::Folder;
use parquet::arrow::ArrowWriter;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use parquet::file::properties::WriterProperties;
use run::{Output, demo_data, guardcell};
use serde_json::Value;
use std::fs::File;
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::Arc;

fn batch(call: &str, input: &Path, output: &Path, more: &[&str]) -> Output {
    let (input, output) = (input.display().to_string(), output.display().to_string());
    let mut args = vec!["batch", call, "--input", &input, "--output", &output];
    args.extend(more);
    guardcell(&args)
}

fn parquet(path: &Path) -> RecordBatch {
    let reader = ParquetRecordBatchReaderBuilder::try_new(File::open(path).unwrap()).unwrap();
    let schema = Arc::clone(reader.schema());
    let batches: Vec<RecordBatch> = reader.build().unwrap().map(Result::unwrap).collect();
    concat_batches(&schema, &batches).unwrap()
}

fn arrow(path: &Path) -> RecordBatch {
    let reader = FileReader::try_new(File::open(path).unwrap(), None).unwrap();
    let schema = reader.schema();
    let batches: Vec<RecordBatch> = reader.map(Result::unwrap).collect();
    concat_batches(&schema, &batches).unwrap()
}

fn write_parquet(path: &Path, batch: &RecordBatch) {
    let file = File::create(path).unwrap();
    let mut writer = ArrowWriter::try_new(file, batch.schema(), None).unwrap();
    writer.write(batch).unwrap();
    writer.close().unwrap();
}

fn texts(batch: &RecordBatch, name: &str) -> Vec<Option<String>> {
    let column = batch.column_by_name(name).unwrap().as_string::<i32>();
    column.iter().map(|text| text.map(str::to_owned)).collect()
}

fn floats(batch: &RecordBatch, name: &str) -> Vec<Option<f64>> {
    batch.column_by_name(name).unwrap().as_primitive::<Float64Type>().iter().collect()
}

/// Rows with every oddity: quotes, wrong number of cells, bytes that are no UTF-8, an open quote.
const ODD: &[u8] = b"id,quantity,to\n\
    1,2 kg,g\n\
    2,\"14 \xC2\xB0dH\",mg/L CaCO3\n\
    3,too,many,cells\n\
    4,300 ppm,mg/L\n\
    \n\
    5,\xff kg,g\n\
    \"6, or \"\"six\"\"\",1 lb,g\n\
    7,212 \xC2\xB0F,\xC2\xB0C\n\
    \"open,1 kg,g\n";

#[test]
fn broken_rows_of_csv_stay_in_their_place() {
    let folder = Folder::new();
    let input = folder.path("odd.csv");
    std::fs::write(&input, ODD).unwrap();
    let text = batch("convert", &input, &folder.path("out.csv"), &[]);
    let table = batch("convert", &input, &folder.path("out.parquet"), &[]);
    assert_eq!((text.code, table.code), (2, 2), "{}", table.stderr);
    // The same rows are in both files of errors, with the same lines.
    let errors = |name: &str| std::fs::read_to_string(folder.path(name)).unwrap();
    assert_eq!(errors("out.parquet.errors.csv"), errors("out.csv.errors.csv"));
    let answers = parquet(&folder.path("out.parquet"));
    let ids = texts(&answers, "id");
    let ids: Vec<Option<&str>> = ids.iter().map(Option::as_deref).collect();
    assert_eq!(
        ids,
        [Some("1"), Some("2"), None, Some("4"), None, Some("6, or \"six\""), Some("7"), None]
    );
    let value = floats(&answers, "value");
    // One pound is 453.59237 g (international pound, exact).
    assert_eq!(value[0], Some(2000.0));
    assert!((value[5].unwrap() - 453.592_37).abs() < 1e-6);
    assert!((value[6].unwrap() - 100.0).abs() < 1e-9);
    let missing: Vec<usize> = (0..8).filter(|row| value[*row].is_none()).collect();
    assert_eq!(missing, [2, 3, 4, 7]);
}

/// From each format to each: the answers are those of CSV to CSV.
#[test]
fn every_format_gives_the_same_answers() {
    let folder = Folder::new();
    let csv = folder.path("in.csv");
    let mut rows = "id,quantity,to\n".to_owned();
    for i in 0..20_000_u32 {
        let (unit, to) = [("ppm P2O5", "ppm P"), ("°dH", "mg/L CaCO3"), ("°F", "°C"), ("?", "g")]
            [i as usize * 7 % 4];
        rows.push_str(&format!("{i},{}.{} {unit},{to}\n", i % 311, i % 10));
    }
    std::fs::write(&csv, rows).unwrap();
    let wanted = folder.path("wanted.csv");
    assert_eq!(batch("convert", &csv, &wanted, &[]).code, 2);
    let wanted = std::fs::read_to_string(wanted).unwrap();
    for first in ["parquet", "arrow"] {
        // The rows as a table, without the answers.
        let table = folder.path(&format!("in.{first}"));
        assert_eq!(batch("convert", &csv, &table, &["--columns", "kind"]).code, 2);
        for second in ["parquet", "arrow", "csv"] {
            let out = folder.path(&format!("{first}.{second}"));
            let done = batch("convert", &table, &out, &["--jobs", "3"]);
            assert_eq!(done.code, 2, "{}", done.stderr);
            if second == "csv" {
                let text = std::fs::read_to_string(&out).unwrap();
                let without_kind: String = text
                    .lines()
                    .map(|line| {
                        let cells: Vec<&str> = line.splitn(5, ',').collect();
                        format!("{},{},{},{}\n", cells[0], cells[1], cells[2], cells[4])
                    })
                    .collect();
                assert!(without_kind == wanted, "{first} to {second}");
                continue;
            }
            let answers = if second == "arrow" { arrow(&out) } else { parquet(&out) };
            assert_eq!(answers.num_rows(), 20_000);
            let answered =
                (0..20_000).filter(|row| answers.column_by_name("unit").unwrap().is_valid(*row));
            let (id, value) = (texts(&answers, "id"), floats(&answers, "value"));
            let lines: Vec<(String, f64)> =
                answered.map(|row| (id[row].clone().unwrap(), value[row].unwrap())).collect();
            let expected: Vec<(String, f64)> = wanted
                .lines()
                .skip(1)
                .map(|line| {
                    let cells: Vec<&str> = line.split(',').collect();
                    (cells[0].to_owned(), cells[3].parse().unwrap())
                })
                .collect();
            let differ = lines.iter().zip(&expected).find(|(line, expected)| line != expected);
            assert_eq!(differ, None, "{first} to {second}");
            assert_eq!(lines.len(), expected.len(), "{first} to {second}");
        }
    }
}

/// Whatever other programs pack Parquet with is read.
#[test]
fn parquet_is_read_in_every_usual_compression() {
    use parquet::basic::{Compression, GzipLevel, ZstdLevel};
    let folder = Folder::new();
    let column = |texts: Vec<&str>| Arc::new(StringArray::from(texts)) as ArrayRef;
    let columns = [("quantity", column(vec!["2 kg", "1 lb"])), ("to", column(vec!["g", "g"]))];
    let rows = RecordBatch::try_from_iter(columns).unwrap();
    for compression in [
        Compression::UNCOMPRESSED,
        Compression::SNAPPY,
        Compression::GZIP(GzipLevel::default()),
        Compression::LZ4_RAW,
        Compression::ZSTD(ZstdLevel::default()),
    ] {
        let input = folder.path("in.parquet");
        let packed = WriterProperties::builder().set_compression(compression).build();
        let file = File::create(&input).unwrap();
        let mut writer = ArrowWriter::try_new(file, rows.schema(), Some(packed)).unwrap();
        writer.write(&rows).unwrap();
        writer.close().unwrap();
        let out = folder.path(&format!("{compression}.parquet"));
        let done = batch("convert", &input, &out, &[]);
        assert_eq!(done.code, 0, "{compression}: {}", done.stderr);
        // International pound, exact.
        let value = floats(&parquet(&out), "value");
        assert_eq!(value[0], Some(2000.0), "{compression}");
        assert!((value[1].unwrap() - 453.592_37).abs() < 1e-6, "{compression}");
    }
}

#[test]
fn answers_have_the_types_of_the_schemas() {
    let folder = Folder::new();
    let requests = folder.path("round.ndjson");
    let example = guardcell::calls::find("round").unwrap().example();
    let line = serde_json::from_str::<Value>(example).unwrap().to_string();
    std::fs::write(&requests, format!("{line}\n{{\n\n{line}\n")).unwrap();
    let out = folder.path("round.parquet");
    let done = batch("round", &requests, &out, &[]);
    assert_eq!(done.code, 2, "{}", done.stderr);
    let answers = parquet(&out);
    assert_eq!(answers.num_rows(), 3);
    let kind = |name: &str| answers.column_by_name(name).unwrap().data_type().clone();
    assert_eq!(kind("minutes"), DataType::Float64);
    assert_eq!(kind("site"), DataType::Utf8);
    assert!(matches!(kind("bucket"), DataType::Struct(_)));
    let DataType::List(item) = kind("sittings") else { panic!("a list") };
    assert!(matches!(item.data_type(), DataType::Struct(_)));
    let wanted: Value =
        serde_json::from_str(&guardcell::calls::call("round", &line).unwrap()).unwrap();
    assert_eq!(
        floats(&answers, "minutes"),
        [wanted["minutes"].as_f64(), None, wanted["minutes"].as_f64()]
    );
    let errors = std::fs::read_to_string(folder.path("round.parquet.errors.ndjson")).unwrap();
    let error: Value = serde_json::from_str(&errors).unwrap();
    assert_eq!((error["row"].as_u64(), error["line"].as_u64()), (Some(2), Some(2)));
    assert_eq!(error["code"], "malformed-json");

    // The whole as JSON, byte for byte, and back to lines.
    let whole = folder.path("whole.parquet");
    assert_eq!(batch("round", &requests, &whole, &["--columns", ".,site"]).code, 2);
    let answers = parquet(&whole);
    let plain = folder.path("plain.ndjson");
    assert_eq!(batch("round", &requests, &plain, &[]).code, 2);
    let lines = std::fs::read_to_string(plain).unwrap();
    let got: Vec<String> = texts(&answers, "answer")
        .into_iter()
        .map(|answer| answer.unwrap_or_else(|| "null".to_owned()))
        .collect();
    for (got, wanted) in got.iter().zip(lines.lines()) {
        let read = |text: &str| serde_json::from_str::<Value>(text).unwrap();
        assert_eq!(read(got), read(wanted));
    }
}

/// Whole requests in one column: lines of the answers are those of NDJSON.
#[test]
fn a_column_of_requests_is_answered_as_lines_are() {
    let folder = Folder::new();
    for call in guardcell::calls::ALL {
        let example = call.example();
        let lines = folder.path("in.ndjson");
        let line = serde_json::from_str::<Value>(example).unwrap().to_string();
        std::fs::write(&lines, format!("{line}\nnothing\n{line}\n")).unwrap();
        let plain = folder.path("plain.ndjson");
        assert_eq!(batch(call.name(), &lines, &plain, &[]).code, 2);
        let requests: ArrayRef = Arc::new(StringArray::from(vec![line.as_str(), "nothing", &line]));
        let id: ArrayRef = Arc::new(Int64Array::from(vec![1, 2, 3]));
        let table = RecordBatch::try_from_iter([("id", id), ("request", requests)]).unwrap();
        let input = folder.path("in.parquet");
        write_parquet(&input, &table);
        let out = folder.path("out.ndjson");
        let done = batch(call.name(), &input, &out, &[]);
        assert_eq!(done.code, 2, "{}", done.stderr);
        assert!(std::fs::read(&out).unwrap() == std::fs::read(&plain).unwrap(), "{}", call.name());
    }
}

#[test]
fn a_shelf_of_plants_as_numbers() {
    let folder = Folder::new();
    let names: DictionaryArray<arrow_array::types::Int32Type> =
        ["Cattleya", "Vanda", "Cattleya"].into_iter().collect();
    let text = |of: &str| -> ArrayRef { Arc::new(StringArray::from(vec![of; 3])) };
    let site = demo_data().join("site.toml").display().to_string();
    let area = guardcell_area(&site);
    let columns: Vec<(&str, ArrayRef)> = vec![
        ("plant.id", Arc::new(Int64Array::from(vec![1, 2, 3]))),
        ("plant.name", Arc::new(names)),
        ("plant.area", text(&area)),
        ("plant.setting", text("mounted")),
        ("plant.standing", text("established")),
        ("reading.temp_c", Arc::new(Float64Array::from(vec![Some(18.5), Some(24.0), None]))),
        ("reading.rh_percent", Arc::new(Float64Array::from(vec![85.0, 45.0, 60.0]))),
        ("reading.time", text("2026-06-21T18:00:00+00:00")),
        ("at", text("2026-06-21T18:00:00+00:00")),
    ];
    let input = folder.path("shelf.parquet");
    let table = RecordBatch::try_from_iter_with_nullable(
        columns.into_iter().map(|(name, column)| (name, column, true)),
    )
    .unwrap();
    write_parquet(&input, &table);
    let out = folder.path("advice.arrow");
    let done = batch("advise", &input, &out, &["--site", &site]);
    assert_eq!(done.code, 2, "{}", done.stderr);
    assert!(done.stderr.contains("1 of 3 rows"), "{}", done.stderr);
    let advice = arrow(&out);
    assert_eq!(advice.column_by_name("passes").unwrap().data_type(), &DataType::Int64);
    let id = advice.column_by_name("plant.id").unwrap().as_primitive::<Int64Type>();
    assert_eq!(id.values(), &[1, 2, 3]);
    let verdicts = texts(&advice, "verdict");
    assert!(verdicts[0].is_some() && verdicts[1].is_some() && verdicts[2].is_none());
    let errors = std::fs::read_to_string(folder.path("advice.arrow.errors.ndjson")).unwrap();
    let error: Value = serde_json::from_str(&errors).unwrap();
    assert_eq!(error["row"], 3);
    assert!(error.get("line").is_none(), "a table has no lines: {errors}");
    assert!(error["raw"].as_str().unwrap().contains("\"plant.id\":3"), "{errors}");

    let none = batch("advise", &input, &folder.path("none.parquet"), &[]);
    assert_eq!(none.code, 2);
    assert!(none.stderr.contains("--site"), "{}", none.stderr);
}

/// The first area of a site.
fn guardcell_area(site: &str) -> String {
    let site: toml::Table = std::fs::read_to_string(site).unwrap().parse().unwrap();
    let areas = site["areas"].as_array().unwrap();
    let area = areas[0].as_table().unwrap();
    area.get("id").or_else(|| area.get("name")).and_then(toml::Value::as_str).unwrap().to_owned()
}

#[test]
fn streams_go_through_pipes() {
    let quantity: ArrayRef = Arc::new(Float64Array::from(vec![1.5, 2.0]));
    let unit: ArrayRef = Arc::new(StringArray::from(vec!["kg", "nothing"]));
    let to: ArrayRef = Arc::new(StringArray::from(vec!["g", "g"]));
    let table =
        RecordBatch::try_from_iter([("quantity", quantity), ("unit", unit), ("to", to)]).unwrap();
    let mut stream = StreamWriter::try_new(Vec::new(), &table.schema()).unwrap();
    stream.write(&table).unwrap();
    stream.finish().unwrap();
    let folder = Folder::new();
    let errors = folder.path("errors.ndjson").display().to_string();
    let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .args(["batch", "convert", "--quiet", "--format", "arrow", "--input", "-", "--output", "-"])
        .args(["--errors", &errors])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(stream.get_ref()).unwrap();
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(2), "{}", String::from_utf8_lossy(&out.stderr));
    let mut reader = StreamReader::try_new(out.stdout.as_slice(), None).unwrap();
    let answers = reader.next().unwrap().unwrap();
    assert_eq!(floats(&answers, "value"), [Some(1500.0), None]);
    assert_eq!(std::fs::read_to_string(errors).unwrap().lines().count(), 1);
}

#[test]
fn tables_that_cannot_be_answered() {
    let folder = Folder::new();
    let fault = |call: &str, input: &str, output: &str, more: &[&str]| {
        let done = batch(call, &folder.path(input), &folder.path(output), more);
        assert_eq!(done.code, 2, "{}", done.stderr);
        assert!(!folder.path(output).exists());
        done.stderr
    };
    std::fs::write(folder.path("no.parquet"), "PAR1 and no more").unwrap();
    assert!(fault("convert", "no.parquet", "a.parquet", &[]).contains("no.parquet"));
    std::fs::write(folder.path("no.arrow"), "ARROW1 and no more").unwrap();
    assert!(fault("convert", "no.arrow", "b.parquet", &[]).contains("no.arrow"));
    let id: ArrayRef = Arc::new(Int64Array::from(vec![1]));
    let table = RecordBatch::try_from_iter([("id", Arc::clone(&id))]).unwrap();
    write_parquet(&folder.path("id.parquet"), &table);
    assert!(fault("convert", "id.parquet", "c.parquet", &[]).contains("`quantity`"));
    assert!(fault("round", "id.parquet", "d.parquet", &[]).contains("`request`"));
    let text: ArrayRef = Arc::new(StringArray::from(vec!["2 kg"]));
    let to: ArrayRef = Arc::new(StringArray::from(vec!["g"]));
    let table = RecordBatch::try_from_iter([("quantity", text), ("to", to)]).unwrap();
    let file = File::create(folder.path("one.arrow")).unwrap();
    let mut writer = FileWriter::try_new(file, &table.schema()).unwrap();
    writer.write(&table).unwrap();
    writer.finish().unwrap();
    assert!(
        fault("convert", "one.arrow", "e.parquet", &["--columns", "worth"]).contains("--columns")
    );
    assert!(
        fault("convert", "one.arrow", "f.parquet", &["--spreadsheet"]).contains("--spreadsheet")
    );
    assert!(
        fault("convert", "one.arrow", "g.ndjson", &["--columns", "value"]).contains("--columns")
    );
    let requests: ArrayRef = Arc::new(StringArray::from(vec!["{}"]));
    let table = RecordBatch::try_from_iter([("request", requests)]).unwrap();
    write_parquet(&folder.path("requests.parquet"), &table);
    let site = demo_data().join("site.toml").display().to_string();
    assert!(
        fault("advise", "requests.parquet", "h.parquet", &["--site", &site]).contains("--site")
    );
    let ok = batch("convert", &folder.path("one.arrow"), &folder.path("i.csv"), &[]);
    assert_eq!(ok.code, 0, "{}", ok.stderr);
    assert_eq!(
        std::fs::read_to_string(folder.path("i.csv")).unwrap(),
        "quantity,to,value,unit,basis,notes\n2 kg,g,2000,g,,\n"
    );
}
