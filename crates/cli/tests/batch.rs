//! `batch`: every function, order, faults, odd tables, names of files.
#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod batch_folder;
mod run;

use batch_folder::Folder;
use run::{Output, demo_data, guardcell};
use serde_json::Value;
use std::path::Path;

/// The example of a call and its further good examples.
fn examples(call: &str) -> Vec<Value> {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../schemas/examples/{call}.json"));
    let text = std::fs::read_to_string(path).unwrap_or_else(|_| r#"{"good": []}"#.to_owned());
    let file: Value = serde_json::from_str(&text).unwrap();
    let example = guardcell::calls::find(call).unwrap().example();
    let mut all = vec![serde_json::from_str(example).unwrap()];
    all.extend(file["good"].as_array().unwrap().iter().cloned());
    all
}

#[test]
fn every_function_answers_its_examples_as_the_library_does() {
    let folder = Folder::new();
    for function in guardcell::calls::ALL.iter().map(|call| call.name()) {
        let requests = examples(function);
        let lines: Vec<String> = requests.iter().map(Value::to_string).collect();
        let expected: String = lines
            .iter()
            .map(|request| guardcell::call(function, request).unwrap() + "\n")
            .collect();
        folder.write("in.ndjson", lines.join("\n\n"));
        let out = folder.batch(function, "in.ndjson", &[]);
        assert_eq!(out.code, 0, "{function}: {}", out.stderr);
        assert_eq!(folder.read("out"), expected, "{function}");
        assert_eq!(folder.read("out.errors.ndjson"), "");
        assert_eq!(out.stdout, "");
    }
}

#[test]
fn tables_of_the_flat_functions() {
    let folder = Folder::new();
    let demo = |file: &str| demo_data().join(file).display().to_string();
    let (site, label, water) = (demo("site.toml"), demo("labels"), demo("water.toml"));
    let feed = ["--label", &label, "--product", "Mist", "--water", &water];
    let given = |more: &[&'static str]| -> Vec<String> {
        more.iter().chain(&feed).map(|s| (*s).to_owned()).collect()
    };
    let mut with_site = given(&[]);
    with_site.extend(["--site".to_owned(), site.clone()]);
    for (function, table, column, more) in [
        ("air", "temp_c,rh_percent\n25,50\n", "dew_point_c", vec![]),
        (
            "film",
            "id,temp_c,rh_percent,air_words,composition.ca_mmol_l,composition.cl_mmol_l\n\
                  a,20,60,fan,1,2\n",
            "residue_g_m2",
            vec![],
        ),
        ("genus", "query,bench\nPhalaenopsis,3\n", "pathway", vec![]),
        ("solution", "ions_mmol_l.ca,ions_mmol_l.cl\n1,2\n", "ec25_us_cm", vec![]),
        (
            "day",
            "date,latitude_deg,longitude_deg,time_zone\n2026-06-21,51.5,0,Europe/London\n",
            "sunrise",
            vec![],
        ),
        (
            "water",
            "water.ca_mg_l,water.alkalinity_mg_l_caco3\n40,80\n",
            "hardness_mg_l_caco3",
            vec![],
        ),
        ("meter", "reading.ec_us_cm,reading.ppm500\n650,\n,325\n", "n_mg_l.value", given(&[])),
        (
            "acid",
            "acid,strength_percent,density_kg_l,target.ph,volume_l\nphosphoric,75,1.58,6,20\n",
            "mass_g",
            vec!["--water".to_owned(), water.clone()],
        ),
        (
            "advise",
            "plant.id,plant.name,plant.area,plant.setting,plant.standing,reading.time,\
                    reading.temp_c,reading.rh_percent\n\
                    1,Cattleya labiata,house,mounted,established,2026-06-21T21:00:00Z,20,80\n",
            "verdict",
            with_site,
        ),
        (
            "rescue",
            "name,from\nCattleya labiata,2026-06-21\n",
            "soaks",
            vec!["--site".to_owned(), site.clone()],
        ),
    ] {
        folder.write("in.csv", table);
        let more: Vec<&str> = more.iter().map(String::as_str).collect();
        let out = folder.batch(function, "in.csv", &more);
        assert_eq!(
            out.code,
            0,
            "{function}: {} {}",
            out.stderr,
            std::fs::read_to_string(folder.path("out.errors.csv")).unwrap_or_default()
        );
        let text = folder.read("out");
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let header = reader.headers().unwrap().clone();
        let place = header.iter().position(|h| h == column).unwrap();
        let mut rows = 0;
        for row in reader.records() {
            let row = row.unwrap();
            assert!(!row.get(place).unwrap().is_empty(), "{function}: {text}");
            rows += 1;
        }
        assert_eq!(rows + 1, table.lines().count(), "{function}: {text}");
    }
}

/// 40 mg/L of Ca: 40/40.078 mmol/L and two charges; 40.078 + 12.011 + 3·15.999 g/mol of CaCO3 (Prohaska et al. 2022).
#[test]
fn a_table_of_conversions_with_every_oddity() {
    let folder = Folder::new();
    folder.write(
        "in.csv",
        b"\xef\xbb\xbfid,quantity,to,note\r\n\
          1,\"1,5 L\",mL,\"a, \"\"b\"\"\"\r\n\
          \r\n\
          2,0 \xc2\xb0C,\xc2\xb0F,\r\n\
          3,12 foo,mg/L,\"two\nlines\"\r\n\
          4,1 kg,g\n\
          5,,mg/L,z\n\
          6, 2 kg , g ,un\"quoted\n\
          7,\xff,L,q\n\
          8,\"2 gal,L,1\n\
          9,40 mg/L Ca,mg/L CaCO3,end",
    );
    let out = folder.batch("convert", "in.csv", &["--columns", "value,unit"]);
    assert_eq!(out.code, 2, "{}", out.stderr);
    assert_eq!(
        folder.read("out"),
        "id,quantity,to,note,value,unit\n\
         1,\"1,5 L\",mL,\"a, \"\"b\"\"\",1500,mL\n\
         2,0 °C,°F,,32,[degF]\n\
         6, 2 kg , g ,un\"quoted,2000,g\n\
         9,40 mg/L Ca,mg/L CaCO3,end,99.89121214,mg/L\n"
    );
    let errors = folder.read("out.errors.csv");
    let rows: Vec<csv::StringRecord> =
        csv::Reader::from_reader(errors.as_bytes()).records().map(Result::unwrap).collect();
    let places: Vec<[&str; 3]> = rows.iter().map(|r| [&r[0], &r[1], &r[3]]).collect();
    assert_eq!(
        places,
        [
            ["3", "5", "quantity"],
            ["4", "7", ""],
            ["5", "8", "quantity"],
            ["7", "10", ""],
            ["8", "11", ""]
        ]
    );
    assert_eq!(&rows[0][6], "3,12 foo,mg/L,\"two\nlines\"");
    for (row, words) in rows.iter().zip(["foo", "3 fields", "empty", "UTF-8", "quote"]) {
        assert!(row[4].contains(words), "{row:?}");
        assert!(!row[2].is_empty() && !row[5].is_empty(), "{row:?}");
    }
    assert_eq!(folder.files(), ["in.csv", "out", "out.errors.csv"]);
}

#[test]
fn headers_that_are_no_use() {
    let folder = Folder::new();
    for (table, words) in [
        ("", "the table is empty"),
        ("\n\r\n", "the table is empty"),
        ("quantity,quantity,to\n1 g,1 g,kg\n", "duplicate column `quantity`"),
        ("quantity;to\n1 g;kg\n", "semicolons"),
        ("quantitty,to\n1 g,kg\n", "`quantity` is missing; not read are quantitty"),
        ("quantity,\"to\n1 g,kg\n", "opens a quote"),
    ] {
        folder.write("in.csv", table);
        let out = folder.batch("convert", "in.csv", &[]);
        assert_eq!(out.code, 2, "{table:?}: {}", out.stderr);
        assert!(out.stderr.contains(words), "{table:?}: {}", out.stderr);
        assert_eq!(folder.files(), ["in.csv"], "{table:?} leaves nothing behind");
    }
    folder.write("in.csv", "quantity,to\n");
    let out = folder.batch("convert", "in.csv", &[]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert_eq!(folder.read("out"), "quantity,to,value,unit,basis,notes\n");
}

#[test]
fn a_column_that_is_there_already_is_not_written_over() {
    let folder = Folder::new();
    folder.write("in.csv", "quantity,to,value,unit\n1 kg,g,mine,mine too\n");
    let out = folder.batch("convert", "in.csv", &["--columns", "value,unit,from.value"]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(out.stderr.contains("passed along: value, unit"), "{}", out.stderr);
    assert_eq!(
        folder.read("out"),
        "quantity,to,value,unit,answer.value,answer.unit,from.value\n\
         1 kg,g,mine,mine too,1000,g,1\n"
    );
}

#[test]
fn a_line_of_the_output_for_each_row_of_ndjson() {
    let folder = Folder::new();
    let good = r#"{"temp_c":25,"rh_percent":50}"#;
    folder.write(
        "in.ndjson",
        format!("{good}\n\nnot json\n[25,50]\n{{\"temp_c\":25,\"rh_percent\":500}}\r\n{good}"),
    );
    let out = folder.batch("air", "in.ndjson", &[]);
    assert_eq!(out.code, 2);
    let answers: Vec<Value> =
        folder.read("out").lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    let nulls: Vec<bool> = answers.iter().map(Value::is_null).collect();
    assert_eq!(nulls, [false, true, true, true, false]);
    let errors: Vec<Value> = folder
        .read("out.errors.ndjson")
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    let places: Vec<(u64, u64, &str)> = errors
        .iter()
        .map(|e| {
            (
                e["row"].as_u64().unwrap(),
                e["line"].as_u64().unwrap(),
                e["pointer"].as_str().unwrap(),
            )
        })
        .collect();
    assert_eq!(places, [(2, 3, ""), (3, 4, ""), (4, 5, "/rh_percent")]);
}

#[test]
fn one_thread_and_eight_write_the_same_bytes_in_order() {
    let folder = Folder::new();
    let mut table = "id,quantity,to,note\n".to_owned();
    for i in 0..40_000 {
        let quantity = if i % 997 == 0 { "?".to_owned() } else { format!("{i}.5 ppm P2O5") };
        table.push_str(&format!("{i},{quantity},ppm P,\"note, {i}\n\"\n"));
    }
    folder.write("in.csv", table);
    let mut seen: Vec<(String, String)> = Vec::new();
    for jobs in ["1", "2", "8"] {
        let out = folder.batch("convert", "in.csv", &["--jobs", jobs]);
        assert_eq!(out.code, 2, "{}", out.stderr);
        seen.push((folder.read("out"), folder.read("out.errors.csv")));
    }
    assert!(seen.iter().all(|s| s == &seen[0]));
    let mut reader = csv::Reader::from_reader(seen[0].0.as_bytes());
    let ids: Vec<u32> = reader.records().map(|r| r.unwrap()[0].parse().unwrap()).collect();
    let wanted: Vec<u32> = (0..40_000).filter(|i| i % 997 != 0).collect();
    assert_eq!(ids, wanted);
}

#[test]
fn files_that_may_not_be_the_same_and_flags_of_no_use() {
    let folder = Folder::new();
    folder.write("in.csv", "quantity,to\n1 kg,g\n");
    folder.write("rows.txt", "quantity,to\n1 kg,g\n");
    let input = folder.path("in.csv").display().to_string();
    let refused = |out: Output, words: &str| {
        assert_eq!(out.code, 2, "{}", out.stderr);
        assert!(out.stderr.contains(words), "{}", out.stderr);
    };
    refused(
        guardcell(&["batch", "convert", "--input", &input, "--output", &input]),
        "the same file as --input",
    );
    refused(folder.batch("convert", "in.csv", &["--errors", &input]), "the same file as --input");
    refused(folder.batch("convert", "rows.txt", &[]), "--format csv");
    refused(folder.batch("round", "in.csv", &[]), "NDJSON");
    refused(folder.batch("meter", "in.csv", &[]), "--label");
    refused(folder.batch("convert", "in.csv", &["--water", &input]), "no use");
    refused(folder.batch("convert", "in.csv", &["--columns", "volume"]), "no \"volume\"");
    let out = folder.batch("convert", "missing.csv", &[]);
    assert_eq!(out.code, 3, "{}", out.stderr);
    assert_eq!(folder.files(), ["in.csv", "rows.txt"]);
    let out = folder.batch("convert", "rows.txt", &["--format", "csv", "--quiet"]);
    assert_eq!((out.code, out.stderr.as_str()), (0, ""));
}

#[test]
fn a_product_needs_the_label_it_is_of() {
    let folder = Folder::new();
    folder.write("in.csv", "temp_c,rh_percent,air_words\n20,60,fan\n");
    let out = folder.batch("film", "in.csv", &["--product", "Mist"]);
    assert_eq!(out.code, 2, "{}", out.stdout);
    assert!(out.stderr.contains("--product") && out.stderr.contains("--label"), "{}", out.stderr);
}
