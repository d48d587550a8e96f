//! The safe-strength chart: the highest feed strength that practice allows in one pass and that
//! leaves acceptable residue, against humidity and air movement, for this mix and threshold. It
//! follows the rule that the advice follows.

use crate::error::below;
use crate::inputs::{PROBE_MG_L, urea_share};
use crate::rule::{self, AirFacts};
use crate::timeline::Uptake;
use guardcell_call::{Bound, Bounded, bounds, setters};
use guardcell_error::Error;
use guardcell_film::{
    AirSpeed, AirWord, Leaf, Mix, MoistAir, ResidueThreshold, Spraying, WetSides, drying, residue,
};
use guardcell_reference::Composition;
use guardcell_reference::parameters::{film, practice as p};
use guardcell_solution::{Label, Product, Water, WaterReport};
use guardcell_units::quantity::{ArealMassDensity, ThermodynamicTemperature, mg_per_l};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter, ratio::ratio,
    thermodynamic_temperature::degree_celsius, time::minute, velocity::meter_per_second,
};
use serde::{Deserialize, Serialize};

/// A request for the safe-strength chart of a product in a water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct StrengthChartRequest {
    /// The product.
    pub feed: Label,
    /// The water; pure where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// Air temperature in °C, 0 to 45.
    pub temp_c: f64,
    /// The probability of visible residue that is accepted, 0.01 to 0.5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// The grower's own residue threshold, g/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_threshold_g_m2: Option<f64>,
}

impl StrengthChartRequest {
    /// A product in pure water at an air temperature in °C, 0 to 45.
    #[must_use]
    pub const fn new(feed: Label, temp_c: f64) -> Self {
        Self { feed, water: None, temp_c, tolerance: None, residue_threshold_g_m2: None }
    }
}

setters! { StrengthChartRequest {
    /// The same in this water.
    with_water(water?: WaterReport);
    /// The same accepting this probability of visible residue, 0.01 to 0.5.
    with_tolerance(tolerance?: f64);
    /// The same with the grower's own residue threshold in g/m².
    with_residue_threshold_g_m2(residue_threshold_g_m2?: f64);
} }

bounds! { StrengthChartRequest {
    temp_c: Bound::number(0.0, 45.0, "°C"),
    tolerance: Bound::number(0.01, 0.5, ""),
    residue_threshold_g_m2: Bound::number(1e-4, 10.0, "g/m²"),
} }

/// The chart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StrengthChartResponse {
    /// The product.
    pub product: String,
    /// Air temperature, °C.
    pub temp_c: f64,
    /// The probability of visible residue that is accepted.
    pub tolerance: f64,
    /// The air movements, one a column.
    pub air: Vec<AirColumn>,
    /// One cell for each humidity (from humid to dry) and air movement (from still to windy).
    pub cells: Vec<StrengthCell>,
    /// The highest strength that was tried, mg/L.
    pub most_mg_l: f64,
    /// Above this humidity a film of 300 mg/L stays liquid, %.
    pub stays_wet_above_percent: f64,
    /// The chart in words.
    pub description: Vec<String>,
}

/// One air movement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AirColumn {
    /// The word.
    pub word: AirWord,
    /// The speed it stands for, m/s.
    pub m_s: f64,
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StrengthCell {
    /// Relative humidity, %.
    pub rh_percent: f64,
    /// The air movement.
    pub air: AirWord,
    /// The highest acceptable feed strength in one pass, mg/L; 0 where even the water is too much.
    pub strength_mg_l: f64,
    /// Minutes until a film of that strength is dry to the touch; none where it stays wet.
    pub dry_minutes: Option<f64>,
    /// The likely share of the feed that enters the leaf before it is dry, or within the hours that
    /// are counted where it stays wet, 0 to 1.
    pub share_taken_up: f64,
}

const HUMIDITIES: [f64; 14] =
    [95.0, 90.0, 85.0, 80.0, 75.0, 70.0, 65.0, 60.0, 55.0, 50.0, 45.0, 40.0, 35.0, 30.0];
/// Strengths are found to this step.
const STEP_MG_L: f64 = 25.0;

/// Works the chart out.
///
/// # Errors
/// [`Error`] where a value is out of range or the label or water cannot be.
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::advice::chart::{StrengthChartRequest, strength_chart};
/// use guardcell::solution::Label;
/// let feed = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,13,2,13\n")?.remove(0);
/// let chart = strength_chart(&StrengthChartRequest::new(feed, 22.0))?;
/// assert_eq!(chart.cells.len(), 14 * 5);
/// assert!(chart.svg().starts_with("<svg"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn strength_chart(request: &StrengthChartRequest) -> Result<StrengthChartResponse, Error> {
    request.check_bounds()?;
    let tolerance = request.tolerance.unwrap_or(p::TOLERANCE.number());
    let product = Product::new(&request.feed).map_err(|e| e.within("/feed"))?;
    let water = match &request.water {
        Some(report) => Water::from_report(report).map_err(|e| e.within("/water"))?.composition(),
        None => Composition::PURE_WATER,
    };
    let threshold = match request.residue_threshold_g_m2 {
        Some(g) => ResidueThreshold::new(
            ArealMassDensity::new::<gram_per_square_meter>(g),
            ResidueThreshold::shipped().log_sd(),
        ),
        None => ResidueThreshold::shipped(),
    };
    let most = p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS.mg_per_l();
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(request.temp_c);
    // One mix a strength, from none to the most.
    let mixes: Vec<(f64, Mix)> = (0..=(most / STEP_MG_L) as usize)
        .map(|i| {
            let mg_l = i as f64 * STEP_MG_L;
            let feed = product.composition_at(mg_per_l(mg_l));
            (mg_l, Mix::new(&(feed + water), temperature))
        })
        .collect();
    let uptake = Uptake { urea: urea_share(&product.composition_at(mg_per_l(PROBE_MG_L))) };
    let sprayed = Sprayed { mixes: &mixes, threshold, tolerance, uptake };
    let mut cells = Vec::new();
    for rh_percent in HUMIDITIES {
        let air = MoistAir::from_celsius_percent(request.temp_c, rh_percent)
            .map_err(|e| below("/temp_c", e))?;
        for word in AirWord::ALL {
            guardcell_call::checkpoint();
            cells.push(sprayed.cell(rh_percent, &air, word));
        }
    }
    let stays_wet = mixes
        .iter()
        .find(|(mg_l, _)| *mg_l >= p::STRENGTH_ESTABLISHED.mg_per_l())
        .map_or(1.0, |(_, mix)| mix.stays_wet_above().get::<ratio>());
    let mut chart = StrengthChartResponse {
        product: request.feed.mix_name(),
        temp_c: request.temp_c,
        tolerance,
        air: AirWord::ALL
            .into_iter()
            .map(|word| AirColumn {
                word,
                m_s: AirSpeed::from(word).likely().get::<meter_per_second>(),
            })
            .collect(),
        cells,
        most_mg_l: most,
        stays_wet_above_percent: (stays_wet * 1000.0).round() / 10.0,
        description: Vec::new(),
    };
    chart.description = chart.words();
    Ok(chart)
}

struct Sprayed<'a> {
    mixes: &'a [(f64, Mix)],
    threshold: ResidueThreshold,
    tolerance: f64,
    uptake: Uptake,
}

impl Sprayed<'_> {
    /// The highest strength that practice allows in this air and whose residue is acceptable; both
    /// limits lie above every strength that passes, so the search halves.
    fn cell(&self, rh_percent: f64, air: &MoistAir, word: AirWord) -> StrengthCell {
        let speed = AirSpeed::from(word);
        let leaf = Leaf::default().wet_on(WetSides::Both);
        let load =
            ArealMassDensity::new::<gram_per_square_meter>(film::FILM_LOAD_DEFAULT.g_per_m2());
        let facts = AirFacts {
            rh_percent,
            air_m_s: Some(speed.likely().get::<meter_per_second>()),
            known_day: true,
        };
        let accepted = |(mg_l, mix): &(f64, Mix)| {
            let left = residue(mix, &leaf, air, &speed, &Spraying::one_pass(load), &self.threshold);
            rule::in_air(*mg_l, facts).is_ok()
                && rule::accepts(left.probability.get::<ratio>(), self.tolerance)
        };
        let good = self.mixes.partition_point(accepted);
        let best = good.checked_sub(1).and_then(|i| self.mixes.get(i));
        let dry_minutes = best.and_then(|(_, mix)| {
            let dried = drying(mix, &leaf, air, speed.likely(), load);
            dried.time_to_dry.map(|t| t.get::<minute>().round())
        });
        let taken = if best.is_some() { self.uptake.share(dry_minutes).likely } else { 0.0 };
        StrengthCell {
            rh_percent,
            air: word,
            strength_mg_l: best.map_or(0.0, |(mg_l, _)| *mg_l),
            dry_minutes,
            share_taken_up: (taken * 1000.0).round() / 1000.0,
        }
    }
}

/// What air movement changes and what it does not, in lines of the picture.
pub(super) const MOVEMENT: [&str; 3] = [
    "Air movement changes how long the leaf stays wet, how much has entered by then, and how long the",
    "velamen of a root holds water. It does not change how much stays solid on the leaf: that is",
    "decided by the humidity, and the driest hour until the next spraying counts.",
];

impl StrengthChartResponse {
    /// The cell of a humidity and an air movement.
    pub(super) fn cell(&self, rh_percent: f64, air: AirWord) -> Option<&StrengthCell> {
        self.cells.iter().find(|c| c.rh_percent == rh_percent && c.air == air)
    }

    pub(super) fn humidities() -> impl Iterator<Item = f64> {
        HUMIDITIES.into_iter()
    }

    fn words(&self) -> Vec<String> {
        let mut out = vec![format!(
            "{} at {} °C: highest feed strength in one pass that leaves visible residue with at \
             most {:.0} % probability, in steady air. Tried up to {:.0} mg/L; above {:.0} mg/L, as \
             in the advice, only from {:.0} % humidity on and in air of up to {} m/s.",
            self.product,
            self.temp_c,
            self.tolerance * 100.0,
            self.most_mg_l,
            p::STRENGTH_ESTABLISHED.mg_per_l(),
            p::HUMID_SINGLE_PASS_RH.percent(),
            p::HUMID_SINGLE_PASS_AIR_MOST.m_per_s()
        )];
        out.push(MOVEMENT.join(" "));
        for column in &self.air {
            let of: Vec<&StrengthCell> =
                self.cells.iter().filter(|c| c.air == column.word).collect();
            let runs = runs(&of);
            out.push(format!("{} air ({} m/s): {}.", column.word.name(), column.m_s, runs));
        }
        out.push(format!(
            "Above {} % humidity a film of {:.0} mg/L stays liquid.",
            self.stays_wet_above_percent,
            p::STRENGTH_ESTABLISHED.mg_per_l()
        ));
        out
    }

    /// The chart for a terminal: a row for each humidity.
    #[must_use]
    pub fn terminal(&self) -> Vec<String> {
        let mut out = vec![format!(
            "{}  {}",
            "  RH",
            self.air.iter().map(|c| format!("{:>12}", c.word.name())).collect::<String>()
        )];
        for rh in Self::humidities() {
            let row: String = self
                .air
                .iter()
                .map(|c| {
                    let cell = self.cell(rh, c.word);
                    let s = cell.map_or(0.0, |c| c.strength_mg_l);
                    let taken = cell.map_or(0.0, |c| c.share_taken_up * 100.0);
                    if s > 0.0 {
                        format!("{s:>4.0} {taken:>4.1} %")
                    } else {
                        format!("{:>11}", "none")
                    }
                })
                .map(|cell: String| format!("{cell:>12}"))
                .collect();
            out.push(format!("{rh:>3.0} %  {row}"));
        }
        out.push(
            "mg/L feed in one pass, and how much of it has entered when the leaf is dry;".into(),
        );
        out.push("none: even the water leaves too much".into());
        out
    }
}

/// `95–80 %: 600 mg/L; 75 %: 550 mg/L`.
fn runs(cells: &[&StrengthCell]) -> String {
    let mut parts: Vec<(f64, f64, f64)> = Vec::new();
    for c in cells {
        match parts.last_mut() {
            Some((_, low, s)) if *s == c.strength_mg_l => *low = c.rh_percent,
            _ => parts.push((c.rh_percent, c.rh_percent, c.strength_mg_l)),
        }
    }
    let words: Vec<String> = parts
        .into_iter()
        .map(|(high, low, s)| {
            let range = if high > low {
                format!("{high:.0} to {low:.0} %")
            } else {
                format!("{high:.0} %")
            };
            let strength = if s > 0.0 { format!("{s:.0} mg/L") } else { "none".into() };
            format!("{range} {strength}")
        })
        .collect();
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chart() -> StrengthChartResponse {
        let csv = "name,n_percent,p2o5_percent,k2o_percent\nX,13,2,13\n";
        let feed = Label::from_csv(csv).unwrap().remove(0);
        strength_chart(&StrengthChartRequest {
            feed,
            water: None,
            temp_c: 22.0,
            tolerance: None,
            residue_threshold_g_m2: None,
        })
        .unwrap()
    }

    // Common practice, no source: above 300 mg/L only in 80 % or more and light air (up to
    // 0.4 m/s); a fan (more than that) never.
    #[test]
    fn six_hundred_only_in_humid_light_air() {
        let chart = chart();
        for c in &chart.cells {
            let gentle = matches!(c.air, AirWord::Still | AirWord::Light);
            if !(gentle && c.rh_percent >= 80.0) {
                assert!(c.strength_mg_l <= 300.0, "{c:?}");
            }
        }
        assert_eq!(chart.cell(85.0, AirWord::Light).unwrap().strength_mg_l, 600.0);
        assert_eq!(chart.cell(85.0, AirWord::Fan).unwrap().strength_mg_l, 300.0);
        assert_eq!(chart.cell(75.0, AirWord::Still).unwrap().strength_mg_l, 300.0);
    }

    // A film in faster air is dry sooner, so that less enters by then; what stays solid is decided
    // by the humidity, so that the strength does not rise with the speed.
    #[test]
    fn movement_changes_what_enters() {
        let chart = chart();
        for rh in [70.0, 60.0, 50.0] {
            let of = |word| chart.cell(rh, word).unwrap();
            let row: Vec<&StrengthCell> = AirWord::ALL.into_iter().map(of).collect();
            for pair in row.windows(2) {
                assert!(pair[0].dry_minutes > pair[1].dry_minutes, "{pair:?}");
                assert!(pair[0].share_taken_up > pair[1].share_taken_up, "{pair:?}");
                assert!(pair[0].strength_mg_l >= pair[1].strength_mg_l - 25.0, "{pair:?}");
            }
        }
        assert!(
            chart.description.iter().any(|d| d.contains("does not change how much stays solid"))
        );
    }
}
