//! Record batches through every call: the same answers as one by one, every row in its place.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use arrow_array::cast::AsArray;
use arrow_array::types::{Float64Type, Int64Type};
use arrow_array::{
    Array, ArrayRef, BooleanArray, Float64Array, Int64Array, RecordBatch, StringArray,
};
use guardcell::calls::{self, AnyCall};
use guardcell::{Code, Error};
use guardcell_table::batch::{Answered, Asked, Options, errors};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::Arc;

fn call(name: &str) -> &'static AnyCall {
    calls::find(name).unwrap()
}

fn texts<'a>(rows: impl IntoIterator<Item = &'a str>) -> ArrayRef {
    Arc::new(StringArray::from_iter_values(rows))
}

fn batch(columns: Vec<(&str, ArrayRef)>) -> RecordBatch {
    RecordBatch::try_from_iter_with_nullable(columns.into_iter().map(|(n, c)| (n, c, true)))
        .unwrap()
}

fn ask(name: &str, rows: &RecordBatch, options: Options) -> Result<Answered, Error> {
    Asked::new(call(name), &rows.schema(), options)?.worker().answer(rows, Vec::new())
}

fn floats(answered: &Answered, name: &str) -> Vec<Option<f64>> {
    let column = answered.answers.column_by_name(name).unwrap();
    column.as_primitive::<Float64Type>().iter().collect()
}

fn words(answered: &Answered, name: &str) -> Vec<Option<String>> {
    let column = answered.answers.column_by_name(name).unwrap();
    column.as_string::<i32>().iter().map(|t| t.map(str::to_owned)).collect()
}

/// The answer of the whole request is the answer of the call, byte for byte, and a request that is
/// refused is refused with the same error.
#[test]
fn every_call_answers_a_column_of_requests() {
    for call in calls::ALL {
        let rows = [call.example(), "{", call.example(), "", r#"{"no such field": 1}"#];
        let table = batch(vec![
            ("request", texts(rows)),
            ("id", Arc::new(Int64Array::from_iter_values(0..5))),
        ]);
        let options = Options::default().with_columns(&["."]);
        let answered = ask(call.name(), &table, options).unwrap();
        let wanted: Vec<Result<String, Error>> =
            rows.iter().map(|row| calls::call(call.name(), row)).collect();
        let got = words(&answered, "answer");
        for (row, wanted) in wanted.iter().enumerate() {
            assert_eq!(got[row].as_ref(), wanted.as_ref().ok(), "{} row {row}", call.name());
        }
        let failed: Vec<usize> = answered.failed.iter().map(|(row, _)| *row).collect();
        assert_eq!(failed, [1, 3, 4], "{}", call.name());
        for (row, error) in &answered.failed {
            if *row != 3 {
                assert_eq!(Some(error), wanted[*row].as_ref().err(), "{}", call.name());
            }
        }
        let id = answered.answers.column_by_name("id").unwrap().as_primitive::<Int64Type>();
        assert_eq!(id.values(), &[0, 1, 2, 3, 4]);
    }
}

/// Without names every field of the answer is a column of its type.
#[test]
fn every_field_of_an_answer_is_a_column() {
    for call in calls::ALL {
        let table = batch(vec![("request", texts([call.example()]))]);
        let answered = ask(call.name(), &table, Options::default()).unwrap();
        assert!(answered.failed.is_empty());
        let answer: Value =
            serde_json::from_str(&calls::call(call.name(), call.example()).unwrap()).unwrap();
        let fields = answer.as_object().unwrap();
        assert!(answered.answers.num_columns() >= fields.len(), "{}", call.name());
        for (name, value) in fields {
            let column = answered.answers.column_by_name(name).unwrap();
            let empty = value.is_null();
            assert_eq!(column.is_null(0), empty, "{} {name}", call.name());
            if let Some(list) = value.as_array()
                && let Some(column) = column.as_list_opt::<i32>()
            {
                assert_eq!(column.value_length(0) as usize, list.len(), "{} {name}", call.name());
            }
        }
    }
}

/// Moist air at 25 °C and 50 %: dew point 13.9 °C, saturation pressure 3169 Pa (ASHRAE Handbook
/// of Fundamentals 2017, chapter 1, table 3: 3.1693 kPa at 25 °C).
#[test]
fn numbers_come_as_numbers() {
    let table = batch(vec![
        ("shelf", texts(["a", "b", "c", "d"])),
        (
            "temp_c",
            Arc::new(Float64Array::from(vec![Some(25.0), Some(f64::NAN), None, Some(25.0)])),
        ),
        ("rh_percent", Arc::new(Int64Array::from(vec![50, 50, 50, 140]))),
    ]);
    let answered = ask("air", &table, Options::default()).unwrap();
    let pressure = floats(&answered, "saturation_pressure_pa");
    assert!((pressure[0].unwrap() - 3169.3).abs() < 3.0, "{pressure:?}");
    assert_eq!(pressure[1..], [None, None, None]);
    let failed: Vec<(usize, Code, &str)> =
        answered.failed.iter().map(|(row, e)| (*row, e.code(), e.pointer())).collect();
    assert_eq!(
        failed,
        [
            (1, Code::BadNumber, "/temp_c"),
            (2, Code::Missing, "/temp_c"),
            (3, Code::OutOfRange, "/rh_percent"),
        ]
    );
    assert_eq!(words(&answered, "shelf").into_iter().flatten().collect::<String>(), "abcd");
}

#[test]
fn errors_are_a_table_of_their_own_and_a_column() {
    let table = batch(vec![("quantity", texts(["2 kg", "300 ppm", "2 kg"]))]);
    let options = Options::default().with_constant("to", "mg/L").with_error_column("error");
    let answered = ask("convert", &table, options).unwrap();
    assert_eq!(answered.failed.len(), 3);
    let list = errors(answered.failed.iter().map(|(row, e)| (*row as u64 + 101, e))).unwrap();
    assert_eq!(list.column(0).as_primitive::<Int64Type>().values(), &[101, 102, 103]);
    assert_eq!(list.column(1).as_string::<i32>().value(1), "ambiguous-ppm");
    assert_eq!(list.column(2).as_string::<i32>().value(1), "/quantity");
    let column = answered.answers.column_by_name("error").unwrap().as_struct();
    assert_eq!(column.column(0).as_string::<i32>().value(1), "ambiguous-ppm");

    let options = Options::default().with_constant("to", "g").with_error_column("error");
    let answered = ask("convert", &table, options).unwrap();
    let column = answered.answers.column_by_name("error").unwrap();
    assert_eq!((column.is_null(0), column.is_null(1), column.is_null(2)), (true, false, true));
}

#[test]
fn rows_that_a_reader_could_not_read_stay_in_their_place() {
    let table =
        batch(vec![("quantity", texts(["1 kg", "", "3 kg"])), ("to", texts(["g", "", "g"]))]);
    for columns in [&["value"][..], &["value", "message"]] {
        let options = Options::default().with_columns(columns);
        let asked = Asked::new(call("convert"), &table.schema(), options).unwrap();
        let broken = Error::new(Code::MalformedFile, "the row is not UTF-8", "save it as UTF-8");
        let answered = asked.worker().answer(&table, vec![(1, broken.clone())]).unwrap();
        assert_eq!(floats(&answered, "value"), [Some(1000.0), None, Some(3000.0)]);
        assert_eq!(answered.failed, [(1, broken)]);
    }
}

#[test]
fn numbers_with_a_unit_beside_them() {
    let unit = texts(["kg", "°F", "kg", "ppm P2O5"]);
    let table = batch(vec![
        ("quantity", Arc::new(Float64Array::from(vec![1.5, 212.0, f64::INFINITY, 120.0]))),
        ("unit", unit),
        ("to", texts(["g", "°C", "g", "ppm P"])),
    ]);
    for columns in [&["value"][..], &["value", "message"]] {
        let answered = ask("convert", &table, Options::default().with_columns(columns)).unwrap();
        let value = floats(&answered, "value");
        // 2 P of 30.974 in P2O5 of 141.944 (IUPAC 2021).
        let phosphorus = 120.0 * 61.948 / 141.944;
        assert_eq!(value[..3], [Some(1500.0), Some(100.0), None]);
        assert!((value[3].unwrap() - phosphorus).abs() < 0.01, "{value:?}");
        assert_eq!(answered.failed.len(), 1);
    }
    // A number that says no unit has none.
    let table = batch(vec![("quantity", Arc::new(Int64Array::from(vec![5])))]);
    let answered = ask("convert", &table, Options::default().with_constant("to", "g")).unwrap();
    assert_eq!(answered.failed[0].1.pointer(), "/quantity");
}

/// The same plants as a table and one by one.
#[test]
fn advice_takes_site_feed_and_water_once() {
    let request: Value = serde_json::from_str(call("advise").example()).unwrap();
    let plant = &request["plants"][0];
    let reading = &request["readings"][0];
    let mut options = Options::default();
    for name in ["site", "feed", "water"] {
        if let Some(value) = request.get(name) {
            options = options.with_constant(name, value.clone());
        }
    }
    let names = ["Cattleya labiata", "Phalaenopsis", "no such plant"];
    let rh = [Some(55.0), Some(82.0), None];
    let same = |text: &Value| texts([text.as_str().unwrap(); 3]);
    let mut columns: Vec<(&str, ArrayRef)> = vec![
        ("plant.name", texts(names)),
        ("reading.rh_percent", Arc::new(Float64Array::from(rh.to_vec()))),
        ("reading.temp_c", Arc::new(Float64Array::from(vec![21.0; 3]))),
        ("reading.time", same(&reading["time"])),
        ("at", same(&request["at"])),
        ("wanted", Arc::new(BooleanArray::from(vec![true; 3]))),
    ];
    let plant_columns: Vec<(String, ArrayRef)> = plant
        .as_object()
        .unwrap()
        .iter()
        .filter(|(name, value)| *name != "name" && value.is_string())
        .map(|(name, value)| (format!("plant.{name}"), same(value)))
        .collect();
    columns.extend(plant_columns.iter().map(|(n, c)| (n.as_str(), Arc::clone(c))));
    let area = reading["area"].as_str().map(|area| texts([area; 3]));
    columns.extend(area.map(|area| ("reading.area", area)));
    let answered = ask("advise", &batch(columns), options.clone()).unwrap();
    assert_eq!(answered.failed.iter().map(|(row, _)| *row).collect::<Vec<_>>(), [2]);
    for row in 0..2 {
        let mut one = request.clone();
        one.as_object_mut().unwrap().remove("hours");
        let mut plant: Value = plant.clone();
        plant.as_object_mut().unwrap().retain(|_, value| value.is_string());
        plant["name"] = json!(names[row]);
        one["plants"] = json!([plant]);
        let mut air = json!({"temp_c": 21.0, "rh_percent": rh[row], "time": reading["time"]});
        if let Some(area) = reading.get("area") {
            air["area"] = area.clone();
        }
        one["readings"] = json!([air]);
        for name in one.as_object().unwrap().keys() {
            assert!(
                ["site", "feed", "water", "plants", "readings", "at"].contains(&name.as_str()),
                "{name}"
            );
        }
        let wanted: Value =
            serde_json::from_str(&calls::call("advise", &one.to_string()).unwrap()).unwrap();
        let verdict = wanted.pointer("/plants/0/verdict").and_then(Value::as_str);
        assert_eq!(words(&answered, "verdict")[row].as_deref(), verdict);
        let strength = wanted.pointer("/plants/0/feed_strength_mg_l").and_then(Value::as_f64);
        assert_eq!(floats(&answered, "feed_strength_mg_l")[row], strength);
    }
}

#[test]
fn constants_fill_requests_of_one_column() {
    let table = batch(vec![(
        "request",
        texts([r#"{"quantity": "2 kg"}"#, r#"{"quantity": "2 kg", "to": "lb"}"#, "[]"]),
    )]);
    let options = Options::default().with_constant("to", "g").with_columns(&["value"]);
    let answered = ask("convert", &table, options).unwrap();
    assert_eq!(floats(&answered, "value"), [Some(2000.0), None, None]);
    assert_eq!(answered.failed[0].1.code(), Code::Conflict);
    assert_eq!(answered.failed[1].1.code(), Code::WrongForm);
}

#[test]
fn tables_that_cannot_be_asked() {
    let fault = |name: &str, columns: Vec<(&str, ArrayRef)>, options: Options| {
        let error = ask(name, &batch(columns), options).unwrap_err();
        (error.code(), error.pointer().to_owned())
    };
    let quantity = || ("quantity", texts(["2 kg"]));
    let none = Options::default;
    let at = |code, pointer: &str| (code, pointer.to_owned());
    assert_eq!(fault("convert", vec![quantity()], none()), at(Code::Missing, "/to"));
    let twice = none().with_constant("to", "g").with_constant("quantity", "1 kg");
    assert_eq!(fault("convert", vec![quantity()], twice), at(Code::Conflict, "/quantity"));
    let unknown = none().with_constant("to", "g").with_constant("two", 2);
    assert_eq!(fault("convert", vec![quantity()], unknown), at(Code::Unknown, "/two"));
    let column = none().with_constant("to", "g").with_columns(&["worth"]);
    assert_eq!(fault("convert", vec![quantity()], column), at(Code::Unknown, ""));
    assert_eq!(fault("round", vec![quantity()], none()), at(Code::WrongForm, ""));
    assert_eq!(
        fault("rescue", vec![("name", texts(["x"])), ("from", texts(["x"]))], none()),
        at(Code::Missing, "/site")
    );
    let site = none().with_constant("site", json!({"name": 5}));
    let (code, pointer) = fault("advise", vec![quantity()], site);
    assert_eq!((code, pointer.starts_with("/site")), (Code::WrongForm, true), "{pointer}");
    let binary: ArrayRef = Arc::new(arrow_array::BinaryArray::from_vec(vec![b"2 kg"]));
    let to = none().with_constant("to", "g");
    assert_eq!(fault("convert", vec![("quantity", binary)], to), at(Code::WrongForm, "/quantity"));
}

#[test]
fn a_column_that_is_there_already_stays() {
    let table = batch(vec![("quantity", texts(["2 kg"])), ("value", texts(["mine"]))]);
    let answered = ask("convert", &table, Options::default().with_constant("to", "g")).unwrap();
    assert_eq!(words(&answered, "value"), [Some("mine".to_owned())]);
    assert_eq!(floats(&answered, "answer.value"), [Some(2000.0)]);
}

#[test]
fn a_batch_without_rows_has_the_columns_of_the_answer() {
    for call in calls::ALL {
        let table = batch(vec![("request", texts([]))]);
        let answered = ask(call.name(), &table, Options::default()).unwrap();
        assert_eq!(answered.answers.num_rows(), 0);
        assert!(answered.answers.num_columns() > 0);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// Whatever the texts, a table answers as the call does, in any pieces.
    #[test]
    fn a_column_answers_as_rows_do(
        rows in prop::collection::vec(
            ("[0-9]{1,3}(\\.[0-9])?|-?[0-9]e3|[a-z]{0,3}",
             prop::sample::select(vec![" kg", " ppm P2O5", "°F", " °dH", "", " in 100", " scale"]),
             prop::sample::select(vec!["g", "ppm P", "°C", "mg/L CaCO3", ""])),
            1..40),
        cut in 0_usize..40,
    ) {
        let quantities: Vec<String> = rows.iter().map(|(n, unit, _)| format!("{n}{unit}")).collect();
        let table = batch(vec![
            ("quantity", texts(quantities.iter().map(String::as_str))),
            ("to", texts(rows.iter().map(|(.., to)| *to))),
        ]);
        let asked = Asked::new(call("convert"), &table.schema(), Options::default()).unwrap();
        let mut worker = asked.worker();
        let cut = cut.min(rows.len());
        let mut got = Vec::new();
        for part in [table.slice(0, cut), table.slice(cut, rows.len() - cut)] {
            let answered = worker.answer(&part, Vec::new()).unwrap();
            got.extend(floats(&answered, "value"));
            for (row, _) in &answered.failed {
                prop_assert!(answered.answers.column_by_name("unit").unwrap().is_null(*row));
            }
        }
        for (row, got) in got.into_iter().enumerate() {
            let request = json!({"quantity": quantities[row].trim(), "to": rows[row].2});
            let wanted = calls::call("convert", &request.to_string()).ok();
            let wanted: Option<Value> = wanted.map(|a| serde_json::from_str(&a).unwrap());
            prop_assert_eq!(got, wanted.and_then(|w| w["value"].as_f64()), "{}", request);
        }
    }
}
