//! Bad input: a clear error with place and remedy, exit code 2, nothing on standard output, no
//! file left behind.

mod run;

use run::{Demo, guardcell};

#[test]
fn the_demo_situation_itself_is_good() {
    let demo = Demo::new("good");
    let out = demo.round();
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(out.stdout.contains("BUCKET"), "{}", out.stdout);
}

/// Replaces one file of the situation and returns what the program says.
fn with(name: &str, file: &str, text: &str) -> run::Output {
    let demo = Demo::new(name);
    demo.write(file, text);
    demo.round()
}

fn refused(out: &run::Output, words: &[&str]) {
    assert_eq!(out.code, 2, "stdout: {} stderr: {}", out.stdout, out.stderr);
    assert_eq!(out.stdout, "", "an error leaves standard output empty");
    for word in words {
        assert!(out.stderr.contains(word), "{word:?} is not in {:?}", out.stderr);
    }
}

#[test]
fn empty_files() {
    for file in ["collection.csv", "conditions.csv", "site.toml", "water.toml", "label.toml"] {
        refused(&with("empty", file, ""), &[file, "empty"]);
        refused(&with("blank", file, " \n\n"), &[file]);
    }
}

#[test]
fn missing_and_unknown_columns() {
    let out = with("missing", "collection.csv", "id,name,area,setting\n1,Vanda,house,mounted\n");
    refused(&out, &["collection.csv:1", "`standing` is missing"]);
    let out = with("unknown", "conditions.csv", "time,temp_c,rh\n2026-06-21T12:00:00Z,20,50\n");
    refused(&out, &["conditions.csv:1", "unknown column `rh`", "rh_percent"]);
    let out = with("header", "collection.csv", "id,name,area,setting,standing\n");
    refused(&out, &["collection.csv", "no rows"]);
    let out = with("twice", "collection.csv", "id,id,name,area,setting,standing\n");
    refused(&out, &["duplicate column `id`"]);
}

#[test]
fn decimal_commas_and_other_separators() {
    let head = "time,temp_c,rh_percent\n";
    let out = with("comma", "conditions.csv", &format!("{head}2026-06-21T12:00:00Z,\"20,5\",50\n"));
    refused(&out, &["conditions.csv:2: temp_c: ", "decimal comma"]);
    let out = with("fields", "conditions.csv", &format!("{head}2026-06-21T12:00:00Z,20,5,50\n"));
    refused(&out, &["conditions.csv:2", "4 fields", "3"]);
    let out = with("semicolon", "conditions.csv", "time;temp_c;rh_percent\nx;20,5;50\n");
    refused(&out, &["conditions.csv:2: time: "]);
}

#[test]
fn absurd_air() {
    let row = |t: &str, rh: &str, wind: &str| {
        format!("time,temp_c,rh_percent,air_m_s\n2026-06-21T12:00:00Z,{t},{rh},{wind}\n")
    };
    refused(&with("hot", "conditions.csv", &row("250", "50", "0.2")), &["250", "temp_c", "50"]);
    refused(&with("damp", "conditions.csv", &row("20", "140", "0.2")), &["140", "rh_percent"]);
    refused(&with("gale", "conditions.csv", &row("20", "50", "-1")), &["-1", "air_m_s"]);
    refused(&with("nan", "conditions.csv", &row("NaN", "50", "0")), &["NaN", "temp_c"]);
    refused(&with("huge", "conditions.csv", &row("1e999", "50", "0")), &["1e999", "temp_c"]);
    refused(&with("word", "conditions.csv", &row("warm", "50", "0")), &["warm", "not a number"]);
    let out = with("when", "conditions.csv", "time,temp_c,rh_percent\nnoon,20,50\n");
    refused(&out, &["conditions.csv:2", "noon", "2026-06-21T05:00:00+01:00"]);
}

#[test]
fn conditions_that_end_before_the_window() {
    let out = with(
        "ends",
        "conditions.csv",
        "time,temp_c,rh_percent\n2026-06-01T12:00:00Z,20,50\n2026-06-01T13:00:00Z,20,50\n",
    );
    refused(&out, &["conditions.csv", "the last reading", "2026-06-21T12:00:00"]);
}

#[test]
fn plants_that_cannot_be() {
    let head = "id,name,area,setting,standing\n";
    let row = |rows: &str| format!("{head}{rows}");
    let out = with(
        "ids",
        "collection.csv",
        &row("1,Vanda,house,mounted,weak\n1,Vanda,house,mounted,weak\n"),
    );
    refused(&out, &["collection.csv:3: id: ", "duplicate id", "line 2"]);
    let out = with("area", "collection.csv", &row("1,Vanda,attic,mounted,weak\n"));
    refused(&out, &["collection.csv:2", "attic", "house"]);
    let out = with("word", "collection.csv", &row("1,Vanda,house,hanging,weak\n"));
    refused(&out, &["hanging", "mounted, basket, potted, landscape"]);
    let out = with("name", "collection.csv", &row("1,,house,mounted,weak\n"));
    refused(&out, &["collection.csv:2: name: ", "empty"]);
}

#[test]
fn a_site_that_cannot_be() {
    let demo = Demo::new("zone");
    let site = demo.read("site.toml");
    demo.write("site.toml", &site.replace("Atlantic/Azores", "Atlantic/Atlantis"));
    refused(&demo.round(), &["site.toml", "time_zone", "Atlantis", "Europe/London"]);
    demo.write("site.toml", &site.replace("latitude_deg = 38.5", "latitude_deg = 380.5"));
    refused(&demo.round(), &["latitude_deg", "380.5", "-90"]);
    demo.write("site.toml", &site.replace("latitude_deg = 38.5", "latitude = 38.5"));
    refused(&demo.round(), &["site.toml:", "latitude"]);
    demo.write("site.toml", "name = \"X\nlatitude_deg = 1");
    refused(&demo.round(), &["site.toml:1:"]);
}

#[test]
fn labels_that_cannot_be() {
    let label = |text: &str| format!("name = \"X\"\n[guaranteed]\n{text}\n");
    refused(&with("n", "label.toml", &label("n_percent = 120")), &["label.toml", "120"]);
    refused(&with("minus", "label.toml", &label("n_percent = -3")), &["-3"]);
    let parts = label("n_percent = 10\nnitrate_n_percent = 8\nurea_n_percent = 9");
    refused(&with("parts", "label.toml", &parts), &["17", "10"]);
    refused(&with("field", "label.toml", &label("nitrogen = 3")), &["label.toml", "nitrogen"]);
}

#[test]
fn quantities_that_cannot_be() {
    for (quantity, to, words) in [
        ("300 ppm", "mg/L", &["ppm", "N", "meter"][..]),
        ("14 °dH", "mL", &["hardness"][..]),
        ("", "mL", &["the text is empty"][..]),
        ("пять литров", "mL", &[][..]),
        ("1e999 mL", "L", &[][..]),
        ("1,400 mS/cm", "uS/cm", &["1.4", "1400"][..]),
        ("1 tsp", "g", &["eigh"][..]),
    ] {
        let out = guardcell(&["convert", quantity, "--to", to]);
        refused(&out, words);
    }
}

#[test]
fn a_line_without_end() {
    let demo = Demo::new("endless");
    let mut text = String::from("time,temp_c,rh_percent\n");
    text.push_str(&"7".repeat(200_000));
    demo.write("conditions.csv", &text);
    refused(&demo.round(), &["conditions.csv:2", "200000 bytes"]);
}

#[test]
fn a_file_of_another_kind() {
    let demo = Demo::new("binary");
    demo.write_bytes("conditions.csv", &[0x50, 0x4b, 0x03, 0x04, 0xff, 0xfe, 0x00]);
    refused(&demo.round(), &["conditions.csv", "UTF-8"]);
}

#[test]
fn a_file_that_is_not_there_is_an_error_of_input_and_output() {
    let demo = Demo::new("absent");
    demo.remove("water.toml");
    let out = demo.round();
    assert_eq!(out.code, 3, "{}", out.stderr);
    assert!(out.stderr.contains("water.toml"), "{}", out.stderr);
}

#[test]
fn check_says_no_with_exit_code_1() {
    let demo = Demo::new("check");
    demo.write(
        "collection.csv",
        "id,name,area,setting,standing,growth\n1,Vanda,house,mounted,weak,resting\n",
    );
    let out = demo.round_with(&["--check"]);
    assert_eq!(out.code, 1, "{}", out.stderr);
    assert!(out.stdout.contains("no plant is fed"), "{}", out.stdout);
}

#[test]
fn a_soak_that_drowns_is_refused_with_the_reason() {
    let demo = Demo::new("soak");
    let site = demo.path("site.toml");
    let out =
        guardcell(&["rescue", "Vanda", "--site", &site, "--from", "2026-06-21", "--soak", "2 h"]);
    refused(&out, &["120", "30 min", "breathe"]);
}
