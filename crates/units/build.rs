//! Compiles the tables `ec_natural_water.csv` and `light_sources.csv` to constants, so that nothing
//! is parsed at run time.
#![allow(missing_docs)]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    println!("cargo::rerun-if-changed=build.rs");
    match natural_water().and_then(|()| light_sources()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            println!("cargo::error={message}");
            ExitCode::FAILURE
        }
    }
}

fn write(name: &str, text: &str) -> Result<(), String> {
    let out = std::env::var("OUT_DIR").map_err(|e| e.to_string())?;
    let path = PathBuf::from(out).join(name);
    std::fs::write(&path, text).map_err(|e| format!("{}: {e}", path.display()))
}

fn natural_water() -> Result<(), String> {
    let mut lines = guardcell_data::EC_NATURAL_WATER.csv.lines();
    if lines.next() != Some("temp_c,f25,source") {
        return Err("ec_natural_water.csv:1: the header must be temp_c,f25,source".to_owned());
    }
    let mut factors: Vec<f64> = Vec::new();
    for (n, line) in lines.enumerate() {
        let place = format!("ec_natural_water.csv:{}", n + 2);
        let mut fields = line.split(',');
        let (temp, factor) = (fields.next(), fields.next());
        if temp.and_then(|t| t.parse::<usize>().ok()) != Some(n) {
            return Err(format!("{place}: the temperatures must run 0, 1, 2 … without a gap"));
        }
        let factor = factor
            .and_then(|f| f.parse::<f64>().ok())
            .filter(|f| (0.5..2.5).contains(f) && factors.last().is_none_or(|last| f < last))
            .ok_or_else(|| format!("{place}: the factor must be a number below the one before"))?;
        factors.push(factor);
    }
    if factors.len() < 4 || factors.get(25) != Some(&1.0) {
        return Err("ec_natural_water.csv: the factor at 25 °C must be 1".to_owned());
    }
    write(
        "f25.rs",
        &format!(
            "/// Factors from a measured EC to 25 °C at whole degrees from 0 °C.\n\
             pub(super) const F25: [f64; {}] = {factors:?};\n",
            factors.len()
        ),
    )
}

fn light_sources() -> Result<(), String> {
    let mut lines = guardcell_data::LIGHT_SOURCES.csv.lines();
    if lines.next() != Some("light_source,lux_per_umol_m2_s,source,note") {
        return Err("light_sources.csv:1: unexpected header".to_owned());
    }
    let mut out = String::new();
    for (n, line) in lines.enumerate() {
        let mut fields = line.split(',');
        let name = fields.next().unwrap_or_default().to_uppercase();
        let factor = fields
            .next()
            .and_then(|f| f.parse::<f64>().ok())
            .filter(|f| (10.0..200.0).contains(f))
            .ok_or_else(|| format!("light_sources.csv:{}: the factor must be 10 to 200", n + 2))?;
        writeln!(out, "pub(super) const {name}: f64 = {factor:?};").map_err(|e| e.to_string())?;
    }
    write("light_sources.rs", &out)
}
