//! From a meter reading back to the feed.

use crate::conduct::{conductance_of, reference_temperature, specific_conductance_of};
use crate::label::Label;
use crate::notice::{Bounds, Notice, NoticeCode};
use crate::product::Product;
use crate::water::{Water, WaterReport};
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::Composition;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{
    ThermodynamicTemperature, celsius, in_mg_per_l, in_us_per_cm, mg_per_l,
};
use guardcell_units::tds_scale::Scale;
use serde::{Deserialize, Serialize};

/// The most of a product, g or mL in one litre, that is looked at: a solution of half feed.
const MOST_UNITS: f64 = 500.0;

/// What a meter showed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum MeterReading {
    /// Conductivity, µS/cm.
    EcUsCm(f64),
    /// ppm on the 500 scale.
    Ppm500(f64),
    /// ppm on the 640 scale.
    Ppm640(f64),
    /// ppm on the 700 scale.
    Ppm700(f64),
}

/// A question to a meter reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct MeterRequest {
    /// The product that was dissolved.
    pub label: Label,
    /// The water it was dissolved in; pure water if omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// What the meter showed.
    pub reading: MeterReading,
    /// The temperature of the solution, °C, for a meter without temperature compensation; if
    /// omitted, the reading refers to 25 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncompensated_at_c: Option<f64>,
    /// How far the meter may be off, percent; the parameter `meter_accuracy` if omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy_percent: Option<f64>,
}

bounds! { MeterRequest {
    uncompensated_at_c: Bound::number(0.0, 40.0, "°C"),
    accuracy_percent: Bound::number(0.0, 50.0, "%"),
} }

guardcell_call::setters! { MeterRequest {
    /// The same in this water.
    with_water(water?: WaterReport);
    /// The same read without temperature compensation at a temperature, 0 to 40 °C.
    with_uncompensated_at_c(uncompensated_at_c?: f64);
    /// The same with a meter that may be off by this much, 0 to 50 %.
    with_accuracy_percent(accuracy_percent?: f64);
} }

impl MeterRequest {
    /// A reading of a product dissolved in pure water, referred to 25 °C.
    #[must_use]
    pub fn new(label: Label, reading: MeterReading) -> Self {
        Self { label, water: None, reading, uncompensated_at_c: None, accuracy_percent: None }
    }
}

impl Bounded for MeterReading {
    const BOUNDS: &'static [(&'static str, Bound)] = &[
        ("ec_us_cm", Bound::number(0.0, 200_000.0, "µS/cm")),
        ("ppm500", Bound::number(0.0, 100_000.0, "ppm")),
        ("ppm640", Bound::number(0.0, 128_000.0, "ppm")),
        ("ppm700", Bound::number(0.0, 140_000.0, "ppm")),
    ];

    fn check_bounds(&self) -> Result<(), Error> {
        let ([(field, bound), ..], value) = (match self {
            Self::EcUsCm(v) => (&Self::BOUNDS[0..], v),
            Self::Ppm500(v) => (&Self::BOUNDS[1..], v),
            Self::Ppm640(v) => (&Self::BOUNDS[2..], v),
            Self::Ppm700(v) => (&Self::BOUNDS[3..], v),
        }) else {
            return Ok(());
        };
        value.check(bound, &format!("/{field}"))
    }
}

/// What a reading says of the feed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MeterResponse {
    /// The reading as specific conductance, µS/cm at 25 °C.
    pub ec25_us_cm: f64,
    /// The water's own part of it, µS/cm at 25 °C.
    pub water_ec25_us_cm: f64,
    /// Feed strength, mg/L.
    pub feed_strength_mg_l: Bounds,
    /// Total N from the feed, mg/L (ppm N), urea included.
    pub n_mg_l: Bounds,
    /// Of that, the urea N, which the meter does not see: it follows from the label alone.
    pub urea_n_mg_l: Bounds,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}

/// The feed strength and ppm N that a reading of a known product in a known water means.
///
/// # Errors
/// [`Error`] where the label or water is wrong, the reading is below the water's own, or
/// the product conducts nothing (pure urea).
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{Label, MeterRequest, meter};
/// use guardcell::solution::meter::MeterReading;
/// let label = Label::from_toml("name = \"X\"\nderived_from = [\"potassium nitrate\"]\n[guaranteed]\nn_percent = 13.8\nk2o_percent = 46.5\n")?.remove(0);
/// let answer = meter(&MeterRequest::new(label, MeterReading::EcUsCm(415.0)))?;
/// // About 0.3 g of potassium nitrate in a litre.
/// assert!((answer.feed_strength_mg_l.middle() - 300.0).abs() < 15.0);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn meter(request: &MeterRequest) -> Result<MeterResponse, Error> {
    request.check_bounds()?;
    request.reading.check_bounds().map_err(|e| e.within("/reading"))?;
    let product = Product::new(&request.label).map_err(|e| e.within("/label"))?;
    let water = match &request.water {
        Some(r) => Water::from_report(r).map_err(|e| e.within("/water"))?,
        None => Water::pure(),
    };
    let (reading, temperature) = reading(request);
    let accuracy = request.accuracy_percent.unwrap_or(parameter::METER_ACCURACY.percent());
    let water_ec = in_us_per_cm(water.ec25());
    let found = strength_at(&product, &water, reading, reading * accuracy / 100.0, temperature)?;
    let ec25 = found.ec25_us_cm;
    let doubt = ec25 * accuracy / 100.0;
    if ec25 + doubt < water_ec {
        return Err(Error::new(
            Code::Unreachable,
            format!("the reading is {ec25:.0} µS/cm at 25 °C, the water alone has {water_ec:.0}"),
            "check the water's EC and the meter (rinse and calibrate it)",
        )
        .at("/reading"));
    }
    let strength = found.strength;
    let n = strength.map(|s| product.nitrogen_at(mg_per_l(s)).mg_per_l());
    let urea = strength.map(|s| product.urea_nitrogen_at(mg_per_l(s)).mg_per_l());
    let mut warnings = product.assumptions().to_vec();
    if product.has_urea() {
        warnings.push(urea_notice(urea.middle(), n.middle()));
    }
    if water_ec > 0.0 && ec25 - water_ec < 3.0 * doubt {
        warnings.push(Notice::new(
            NoticeCode::ReadingCloseToWater,
            format!(
                "The feed raises the reading by {:.0} µS/cm, not much more than the meter's own \
                 doubt of {doubt:.0}: weigh rather than measure at this strength.",
                ec25 - water_ec
            ),
        ));
    }
    Ok(MeterResponse {
        ec25_us_cm: ec25,
        water_ec25_us_cm: water_ec,
        feed_strength_mg_l: strength,
        n_mg_l: n,
        urea_n_mg_l: urea,
        warnings,
    })
}

/// What a conductivity meter does not see of a feed with urea.
pub(crate) fn urea_notice(urea_n: f64, n: f64) -> Notice {
    let share = if n > 0.0 { 100.0 * urea_n / n } else { 0.0 };
    Notice::new(
        NoticeCode::UreaInvisible,
        format!(
            "{urea_n:.1} of the {n:.1} mg/L N ({share:.0} %) is urea. Urea carries no charge: no \
             meter sees it, neither as EC nor as ppm, and two feeds that read the same can differ \
             by all of it."
        ),
    )
}

/// The conductivity read, µS/cm, and the temperature it refers to.
fn reading(request: &MeterRequest) -> (f64, ThermodynamicTemperature) {
    let us_cm = match request.reading {
        MeterReading::EcUsCm(v) => v,
        MeterReading::Ppm500(v) => Scale::S500.ec(v).us_per_cm(),
        MeterReading::Ppm640(v) => Scale::S640.ec(v).us_per_cm(),
        MeterReading::Ppm700(v) => Scale::S700.ec(v).us_per_cm(),
    };
    (us_cm, request.uncompensated_at_c.map_or_else(reference_temperature, celsius))
}

/// What a conductivity says of a feed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found {
    /// The feed strength, mg/L, with the bounds that the counter-ions, the model's doubt and the
    /// doubt of the reading leave.
    pub(crate) strength: Bounds,
    /// The specific conductance at that strength, µS/cm at 25 °C.
    pub(crate) ec25_us_cm: f64,
}

/// The feed strength at which water and feed together conduct `ec25` µS/cm at 25 °C.
pub(crate) fn strength_at_ec(product: &Product, water: &Water, ec25: f64) -> Result<Bounds, Error> {
    strength_at(product, water, ec25, 0.0, reference_temperature()).map(|f| f.strength)
}

/// The feed strength at which water and feed together conduct `us_cm` µS/cm at a temperature, read
/// to within `doubt` µS/cm.
fn strength_at(
    product: &Product,
    water: &Water,
    us_cm: f64,
    doubt: f64,
    temperature: ThermodynamicTemperature,
) -> Result<Found, Error> {
    let model = parameter::CONDUCTANCE_DOUBT.percent() / 100.0;
    let mut low = f64::INFINITY;
    let mut high: f64 = 0.0;
    let mut middles = Vec::new();
    let mut ec25 = 0.0;
    for ions in product.ions() {
        let mix = Mix { ions, water, temperature };
        let middle = mix.units_at(us_cm, product.name())?;
        ec25 += us_cm * mix.at_25_over_here(middle)?;
        middles.push(middle);
        low = low.min(mix.units_at((us_cm - doubt) * (1.0 - model), product.name())?);
        high = high.max(mix.units_at((us_cm + doubt) * (1.0 + model), product.name())?);
    }
    let as_strength = |units: f64| in_mg_per_l(product.strength_of_units(units));
    let single = if middles.len() == 1 { middles.first().copied().map(as_strength) } else { None };
    Ok(Found {
        strength: Bounds { low: as_strength(low), value: single, high: as_strength(high) },
        ec25_us_cm: ec25 / middles.len().max(1) as f64,
    })
}

/// A product in a water at a temperature.
struct Mix<'a> {
    ions: &'a Composition,
    water: &'a Water,
    temperature: ThermodynamicTemperature,
}

impl Mix<'_> {
    fn composition(&self, units: f64) -> Composition {
        *self.ions * units + self.water.composition()
    }

    /// Conductivity at the temperature, µS/cm. What the water's stated EC is above that of its
    /// ions was seen at 25 °C: it goes with temperature as the whole does.
    fn conductance(&self, units: f64) -> Result<f64, Error> {
        let c = self.composition(units);
        let here = in_us_per_cm(conductance_of(&c, self.temperature)?);
        if self.temperature == reference_temperature() {
            return Ok(here + self.water.ec_offset_us_cm());
        }
        let plain = in_us_per_cm(specific_conductance_of(&c)?);
        Ok(here * (plain + self.water.ec_offset_us_cm()) / plain)
    }

    /// Specific conductance over the conductivity at the temperature.
    fn at_25_over_here(&self, units: f64) -> Result<f64, Error> {
        let c = self.composition(units);
        let here = in_us_per_cm(conductance_of(&c, self.temperature)?);
        Ok(in_us_per_cm(specific_conductance_of(&c)?) / here)
    }

    /// Units of product per litre at which the mixture conducts `target` µS/cm; 0 where the water
    /// alone conducts more.
    fn units_at(&self, target: f64, name: &str) -> Result<f64, Error> {
        if self.conductance(0.0)? >= target {
            return Ok(0.0);
        }
        // Asked in pure water: in a hard one an acid feed eats hydrogencarbonate and lowers the
        // reading at first, though it conducts.
        let alone = |units: f64| specific_conductance_of(&(*self.ions * units)).map(in_us_per_cm);
        if alone(0.1)? - alone(0.0)? < 1e-3 {
            return Err(Error::new(
                Code::Unreachable,
                format!("{name:?} conducts nothing: no meter can tell its strength"),
                "weigh it, or measure the strength of its solution by another way",
            )
            .at("/label"));
        }
        let (mut low, mut high) = (0.0, 0.1);
        while self.conductance(high)? < target {
            low = high;
            high *= 2.0;
            if high > MOST_UNITS {
                return Err(Error::new(
                    Code::Unreachable,
                    format!("{name:?} does not reach {target:.0} µS/cm at any strength"),
                    "take a lower reading or ceiling",
                ));
            }
        }
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if self.conductance(middle)? < target {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(f64::midpoint(low, high))
    }
}
