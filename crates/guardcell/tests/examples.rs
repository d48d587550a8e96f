//! The programs in `examples/` run and say what they are for.

#![allow(clippy::unwrap_used, reason = "a test fails where something is missing")]

use std::path::PathBuf;
use std::process::Command;

/// What an example prints. `cargo test` builds the examples of a package before its tests run.
fn run(name: &str, arguments: &[&str]) -> String {
    let tests = std::env::current_exe().unwrap();
    let folder = tests.parent().and_then(|deps| deps.parent()).unwrap().join("examples");
    let program: PathBuf = folder.join(name).with_extension(std::env::consts::EXE_EXTENSION);
    assert!(program.exists(), "{name}: run `cargo test -p guardcell`, which builds the examples");
    let out = Command::new(program).args(arguments).output().unwrap();
    assert!(out.status.success(), "{name}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// 2 P / P2O5 = 61.948 / 141.943 (IUPAC 2021 atomic weights): 120 ppm P2O5 are 52.37 ppm P.
#[test]
fn convert_converts() {
    assert!(run("convert", &[]).starts_with("120 ppm P2O5 = 52.37"));
    assert!(run("convert", &["2 kg", "g"]).starts_with("2 kg = 2000 g"));
}

#[test]
fn genus_names_pathway_and_works() {
    let text = run("genus", &["Catleya labiata"]);
    assert!(text.starts_with("Cattleya labiata: Cam, opens Night"), "{text}");
    assert!(text.lines().count() > 1, "{text}");
}

/// 45 ppm N in 4 L are 180 mg N, and 15 % of 1.2 g.
#[test]
fn label_to_recipe_weighs() {
    let text = run("label_to_recipe", &[]);
    assert!(text.contains("1.2 g in 4 L"), "{text}");
}

#[test]
fn tonight_says_why() {
    let text = run("tonight", &[]);
    assert!(text.starts_with("Cattleya labiata: "), "{text}");
    assert!(text.lines().filter(|line| line.starts_with("- ")).count() >= 3, "{text}");
}

/// Saturation pressure at 22 °C 2644 Pa (Sonntag 1990); 65 % of it is reached at 15.1 °C.
#[test]
fn axum_service_answers() {
    let answer: serde_json::Value =
        serde_json::from_str(&run("axum_service", &["--once"])).unwrap();
    let dew_point = answer["dew_point_c"].as_f64().unwrap();
    assert!((dew_point - 15.1).abs() < 0.1, "{dew_point}");
}
