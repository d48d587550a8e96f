//! `cargo xtask calibrate residue`: fits the shipped residue threshold to the check values of common
//! practice.
//!
//! Prints the fit and, with `--write`, puts the numbers into `data/film.csv`.

use crate::{calibrate_mixing, calibrate_pathway};
use guardcell::film::{
    AirSpeed, AirWord, Leaf, Mix, MoistAir, ResidueThreshold, Spraying, residue,
};
use guardcell::reference::salts::salt;
use guardcell::reference::{Composition, Solute};
use guardcell::units::quantity::{
    ArealMassDensity, Ratio, ThermodynamicTemperature, in_mg_per_l, mmol_per_l,
};
use guardcell::units::uom::si::{
    areal_mass_density::gram_per_square_meter, ratio::ratio,
    thermodynamic_temperature::degree_celsius,
};
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

/// What can be fitted.
#[derive(Clone, Copy, clap::ValueEnum)]
pub(crate) enum What {
    /// The residue threshold of `data/film.csv`.
    Residue,
    /// The terms of the mixing rule of `data/film.csv`; they are printed, not written.
    Mixing,
    /// The calibrated rows of `data/pathway.csv`.
    Pathway,
}

/// Prints a fit and, where asked, puts it into the data; `false` where a table differs from its fit.
///
/// # Errors
/// Where the table cannot be read or written, or lacks a row.
pub(crate) fn run(what: What, write: bool, root: &Path) -> Result<bool, Box<dyn Error>> {
    match what {
        What::Pathway => return calibrate_pathway::run(write, root),
        What::Mixing => print!("{}", calibrate_mixing::fit().table()),
        What::Residue => {
            print!("{}", residue_table());
            let path = root.join("data/film.csv");
            let table = std::fs::read_to_string(&path)?;
            let fitted = written(&table)?;
            if write {
                std::fs::write(&path, fitted)?;
            } else if table != fitted {
                println!("\ndata/film.csv differs from this fit: run it with --write");
                return Ok(false);
            }
        }
    }
    Ok(true)
}

/// Invented feeds, as mmol of salts; only their proportions count.
pub(crate) const FEEDS: [(&str, &[(&str, f64)]); 3] = [
    (
        "balanced, half the N as urea",
        &[("urea", 3.6), ("potassium_nitrate", 4.2), ("ammonium_dihydrogen_phosphate", 2.8)],
    ),
    (
        "nitrate, with Ca and Mg",
        &[
            ("calcium_nitrate", 2.0),
            ("potassium_nitrate", 2.8),
            ("magnesium_nitrate", 0.8),
            ("ammonium_nitrate", 0.4),
            ("potassium_dihydrogen_phosphate", 0.4),
        ],
    ),
    (
        "phosphate and sulfate",
        &[
            ("potassium_dihydrogen_phosphate", 2.6),
            ("potassium_nitrate", 2.0),
            ("ammonium_sulfate", 1.0),
            ("magnesium_sulfate", 0.8),
        ],
    ),
];

/// One check value of common practice (no source).
pub(crate) struct Check {
    pub(crate) says: &'static str,
    pub(crate) strength: f64,
    pub(crate) passes: u8,
    pub(crate) air: (f64, f64, AirWord),
    pub(crate) at_most: Option<f64>,
    pub(crate) at_least: Option<f64>,
}

const ORDINARY: (f64, f64, AirWord) = (22.0, 65.0, AirWord::Light);
const HUMID: (f64, f64, AirWord) = (22.0, 80.0, AirWord::Light);
const DRY_WINDY: (f64, f64, AirWord) = (26.0, 30.0, AirWord::Windy);

/// The check values, with what "safe" and "not safe" are taken to mean as a probability.
pub(crate) const CHECKS: [Check; 7] = [
    Check {
        says: "300 once in ordinary conditions: safe",
        strength: 300.0,
        passes: 1,
        air: ORDINARY,
        at_most: Some(0.10),
        at_least: None,
    },
    Check {
        says: "300 again in ordinary conditions: safe",
        strength: 300.0,
        passes: 2,
        air: ORDINARY,
        at_most: Some(0.25),
        at_least: None,
    },
    Check {
        says: "600 in one pass at 80 % with light air: safe",
        strength: 600.0,
        passes: 1,
        air: HUMID,
        at_most: Some(0.15),
        at_least: None,
    },
    Check {
        says: "600 in one pass on a dry, windy day: not safe",
        strength: 600.0,
        passes: 1,
        air: DRY_WINDY,
        at_most: None,
        at_least: Some(0.50),
    },
    Check {
        says: "300 on one dry, windy day: can leave residue",
        strength: 300.0,
        passes: 1,
        air: DRY_WINDY,
        at_most: Some(0.50),
        at_least: Some(0.10),
    },
    Check {
        says: "two passes at 300 on that day: less than one at 600",
        strength: 300.0,
        passes: 2,
        air: DRY_WINDY,
        at_most: Some(0.80),
        at_least: None,
    },
    Check {
        says: "hard water (5 meq/L) without feed: leaves residue",
        strength: 0.0,
        passes: 1,
        air: ORDINARY,
        at_most: None,
        at_least: Some(0.50),
    },
];

pub(crate) fn composition(salts: &[(&str, f64)]) -> Composition {
    let mut c = Composition::PURE_WATER;
    for (key, mmol) in salts {
        if let Some(s) = salt(key) {
            c[s.cation] += mmol_per_l(mmol * f64::from(s.cations));
            if let Some(a) = s.anion {
                c[a] += mmol_per_l(mmol * f64::from(s.anions));
            }
        }
    }
    c
}

/// A feed at a strength in mg/L, in pure water.
pub(crate) fn feed(salts: &[(&str, f64)], strength: f64) -> Composition {
    let c = composition(salts);
    c * (strength / in_mg_per_l(c.dissolved_mass()))
}

/// Hard water of 5 meq/L of carbonate hardness.
pub(crate) fn hard_water() -> Composition {
    let mut c = Composition::PURE_WATER;
    c[Solute::Ca] = mmol_per_l(2.0);
    c[Solute::Mg] = mmol_per_l(0.5);
    c[Solute::Dic] = mmol_per_l(5.0);
    c
}

fn celsius(c: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(c)
}

/// The mixes of a check: each feed, or hard water alone.
pub(crate) fn mixes(check: &Check) -> Vec<(&'static str, Mix)> {
    let t = celsius(check.air.0);
    if check.strength == 0.0 {
        return vec![("hard water", Mix::new(&hard_water(), t))];
    }
    FEEDS.iter().map(|(name, salts)| (*name, Mix::new(&feed(salts, check.strength), t))).collect()
}

/// The probability of visible residue in a check.
pub(crate) fn probability(check: &Check, mix: &Mix, threshold: &ResidueThreshold) -> f64 {
    let (c, rh, word) = check.air;
    let Ok(air) = MoistAir::from_celsius_percent(c, rh) else {
        return f64::NAN;
    };
    let spraying = Spraying::one_pass(ArealMassDensity::new::<gram_per_square_meter>(100.0))
        .passes(check.passes);
    residue(mix, &Leaf::default(), &air, &AirSpeed::from(word), &spraying, threshold)
        .probability
        .get::<ratio>()
}

/// The threshold of a median in g/m², a log spread and a visibility of scale.
fn threshold(median: f64, log_sd: f64, scale: f64) -> ResidueThreshold {
    ResidueThreshold::new(
        ArealMassDensity::new::<gram_per_square_meter>(median),
        Ratio::new::<ratio>(log_sd),
    )
    .seeing_scale_as(Ratio::new::<ratio>(scale))
}

/// How far the checks are missed: squares of what is over or under, a margin of 0.02 included, and a
/// light pull towards the middle of the stated ranges that decides among fits as good.
fn loss(prepared: &[(&Check, Vec<(&str, Mix)>)], t: &ResidueThreshold, pull: f64) -> f64 {
    const MARGIN: f64 = 0.02;
    let mut sum = pull;
    for (check, mixes) in prepared {
        for (_, mix) in mixes {
            let p = probability(check, mix, t);
            let over = check.at_most.map_or(0.0, |m| (p - m + MARGIN).max(0.0));
            let under = check.at_least.map_or(0.0, |m| (m + MARGIN - p).max(0.0));
            sum += over * over + under * under;
        }
    }
    sum
}

/// The fit: median in g/m², log spread, visibility of scale, and what is still missed.
pub(crate) fn fit() -> (f64, f64, f64, f64) {
    let prepared: Vec<(&Check, Vec<(&str, Mix)>)> = CHECKS.iter().map(|c| (c, mixes(c))).collect();
    let mut best = (0.0, 0.0, 0.0, f64::INFINITY);
    for i in 0..=40 {
        let median = 0.020 + 0.001 * f64::from(i);
        for j in 0..=8 {
            let log_sd = 0.20 + 0.05 * f64::from(j);
            for k in 0..=12 {
                let scale = 1.0 + 0.25 * f64::from(k);
                let pull = 1e-4 * ((log_sd - 0.4_f64).powi(2) + (scale - 1.0).powi(2));
                let l = loss(&prepared, &threshold(median, log_sd, scale), pull);
                if l < best.3 {
                    best = (median, log_sd, scale, l);
                }
            }
        }
    }
    best
}

/// The fit as a table.
pub(crate) fn residue_table() -> String {
    let (median, log_sd, scale, rest) = fit();
    let t = threshold(median, log_sd, scale);
    let mut out = format!(
        "Residue threshold fitted to common practice (no source)\n\
         median {median:.3} g/m2, log spread {log_sd:.2}, a gram of scale counts as {scale:.2}; \
         missed by {rest:.2e}\n\n| check | feed | probability | wanted | holds |\n|---|---|---|---|---|\n"
    );
    for check in &CHECKS {
        for (name, mix) in mixes(check) {
            let p = probability(check, &mix, &t);
            let low = check.at_least.unwrap_or(0.0);
            let high = check.at_most.unwrap_or(1.0);
            let holds = if p >= low && p <= high { "yes" } else { "NO" };
            let _ = writeln!(
                out,
                "| {} | {name} | {p:.2} | {low:.2}-{high:.2} | {holds} |",
                check.says
            );
        }
    }
    out
}

/// Puts the fitted numbers into the text of `data/film.csv`.
///
/// # Errors
/// A message where a row is missing.
pub(crate) fn written(csv: &str) -> Result<String, String> {
    let (median, log_sd, scale, _) = fit();
    let values = [
        ("residue_threshold_median", format!("{median:.3}")),
        ("residue_threshold_log_sd", format!("{log_sd:.2}")),
        ("scale_visibility", format!("{scale:.2}")),
    ];
    let mut out = csv.to_owned();
    for (key, value) in values {
        let start = out
            .find(&format!("\n{key},"))
            .ok_or_else(|| format!("data/film.csv has no row {key}"))?
            + key.len()
            + 2;
        let end = out[start..]
            .find(',')
            .map(|i| start + i)
            .ok_or_else(|| format!("data/film.csv: the row {key} has no comma"))?;
        out.replace_range(start..end, &value);
    }
    Ok(out)
}
