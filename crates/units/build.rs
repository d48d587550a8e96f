//! Compiles the table `ec_natural_water.csv` to a constant, so that nothing is parsed at run time.
#![allow(missing_docs)]

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            println!("cargo::error={message}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), String> {
    let var = |name: &str| std::env::var(name).map_err(|e| format!("{name}: {e}"));
    println!("cargo::rerun-if-changed=build.rs");
    let mut lines = guardcell_data::EC_NATURAL_WATER.csv.lines();
    if lines.next() != Some("temp_c,f25,source") {
        return Err("ec_natural_water.csv:1: the header should be temp_c,f25,source".to_owned());
    }
    let mut factors: Vec<f64> = Vec::new();
    for (n, line) in lines.enumerate() {
        let place = format!("ec_natural_water.csv:{}", n + 2);
        let mut fields = line.split(',');
        let (temp, factor) = (fields.next(), fields.next());
        if temp.and_then(|t| t.parse::<usize>().ok()) != Some(n) {
            return Err(format!("{place}: the temperatures should run 0, 1, 2 … without a gap"));
        }
        let factor = factor
            .and_then(|f| f.parse::<f64>().ok())
            .filter(|f| (0.5..2.5).contains(f) && factors.last().is_none_or(|last| f < last))
            .ok_or_else(|| {
                format!("{place}: the factor should be a number below the one before")
            })?;
        factors.push(factor);
    }
    if factors.len() < 4 || factors.get(25) != Some(&1.0) {
        return Err("ec_natural_water.csv: the factor at 25 °C should be 1".to_owned());
    }
    let mut out = String::new();
    write!(
        out,
        "/// Factors from a measured EC to 25 °C at whole degrees from 0 °C.\n\
         pub(super) const F25: [f64; {}] = {factors:?};\n",
        factors.len()
    )
    .map_err(|e| e.to_string())?;
    let path = PathBuf::from(var("OUT_DIR")?).join("f25.rs");
    std::fs::write(&path, out).map_err(|e| format!("{}: {e}", path.display()))
}
