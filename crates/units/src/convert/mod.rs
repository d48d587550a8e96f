//! Any quantity of the trade in any other unit or basis.
//!
//! [`convert`] is the whole verb: a request with two texts, an answer with the number, the unit
//! and the basis, what was assumed, and where the definitions stand.

mod ec;
mod many;
mod notes;
mod powder;
mod solute;

pub use many::{Conversion, Converter};
use notes::Notes;

use crate::conductivity::{Compensation, TemperatureCoefficient};
use crate::dimension::Dimension as D;
use crate::error::{Problem, UnitError};
use crate::quantity::MassDensity;
use crate::round::significant;
use crate::text::{Measure, PpmMeaning, Quantity, Subject, Target, entry};
use serde::{Deserialize, Serialize};

/// Significant digits of an answer: more than any scale or meter gives, and few enough that the
/// rounding of binary numbers never shows.
const DIGITS: u8 = 10;

/// A quantity and what to convert it to.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct ConvertRequest {
    /// The quantity as written, such as `120 ppm P2O5`, `14 °dH` or `1.4 mS/cm at 18 °C`.
    pub quantity: String,
    /// The unit and basis to convert to, such as `ppm P`, `mg/L CaCO3` or `mS/cm at 25 °C`.
    pub to: String,
    /// The bulk density of a powder, such as `0.93 g/mL` or `4.6 g/tsp`; needed between spoonfuls
    /// and mass, and only there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bulk_density: Option<String>,
    /// How EC is brought from one temperature to another; linear without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_compensation: Option<EcCompensation>,
    /// The coefficient of linear compensation in per cent per kelvin, 0 to 10; 1.9 without it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ec_percent_per_k: Option<f64>,
    /// What a bare ppm means to this grower; without it a bare ppm is an error.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ppm_means: Option<PpmMeaning>,
}

/// How EC is brought from one temperature to another (ISO 7888).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EcCompensation {
    /// Linear, with the coefficient of the request or 1.9 %/K.
    #[default]
    Linear,
    /// The non-linear function for natural waters, 0 to below 36 °C.
    NaturalWater,
}

/// A converted quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct Convert {
    /// The number in `unit`, to ten significant digits.
    pub value: f64,
    /// The unit: a UCUM code where there is one, else the usual symbol.
    pub unit: String,
    /// What it is counted as or read on: `P`, `CaCO3`, `feed`, `meter 500`, `at 25 °C`; null where
    /// the unit says it all.
    pub basis: Option<String>,
    /// The kind of quantity in words.
    pub kind: String,
    /// The conversion in one line.
    pub says: String,
    /// What was converted.
    pub from: Written,
    /// What was assumed or has to be known.
    pub notes: Vec<String>,
    /// Where the definitions and factors stand.
    pub sources: Vec<String>,
}

/// A quantity as it was understood.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct Written {
    /// The number in `unit`.
    pub value: f64,
    /// The unit code.
    pub unit: String,
    /// What it is counted as or read on.
    pub basis: Option<String>,
    /// The kind of quantity in words.
    pub kind: String,
}

/// Converts a quantity.
///
/// # Errors
/// When a text cannot be read (with the column and the JSON Pointer of the field), when the kinds
/// do not convert (with the reason and what to do), or when a bulk density is missing.
///
/// ```
/// use guardcell_units::convert::{ConvertRequest, convert};
/// let request = ConvertRequest {
///     quantity: "120 ppm P2O5".to_owned(),
///     to: "ppm P".to_owned(),
///     ..ConvertRequest::default()
/// };
/// let answer = convert(&request).unwrap();
/// assert!((answer.value - 52.37).abs() < 0.01);
/// assert_eq!((answer.unit.as_str(), answer.basis.as_deref()), ("mg/L", Some("P")));
/// ```
pub fn convert(request: &ConvertRequest) -> Result<Convert, UnitError> {
    let asked = Asked::read(request)?;
    let (answer, notes) = asked.answer(request)?;
    let value = significant(answer.number(), DIGITS);
    let quantity = &asked.quantity;
    Ok(Convert {
        value,
        unit: answer.unit().code(),
        basis: basis(&answer),
        kind: answer.dimension().name().to_owned(),
        says: says(quantity, &answer),
        from: Written {
            value: quantity.number(),
            unit: quantity.unit().code(),
            basis: basis(quantity),
            kind: quantity.dimension().name().to_owned(),
        },
        notes: notes.notes,
        sources: notes.sources,
    })
}

fn says(quantity: &Quantity, answer: &Quantity) -> String {
    format!("{} = {}", quantity.rounded(), answer.readable())
}

/// A request that has been read.
#[derive(Debug, Clone, Copy)]
struct Asked {
    quantity: Quantity,
    target: Target,
    context: Context,
}

impl Asked {
    fn read(request: &ConvertRequest) -> Result<Self, UnitError> {
        let quantity = Quantity::parse_with(&request.quantity, request.ppm_means)
            .map_err(|e| e.in_field("/quantity"))?;
        let target = Target::parse(&request.to).map_err(|e| e.in_field("/to"))?;
        let density = match &request.bulk_density {
            Some(text) => {
                Some(entry::parse_bulk_density(text).map_err(|e| e.in_field("/bulk_density"))?)
            }
            None => None,
        };
        let context = Context { compensation: request.compensation()?, density };
        Ok(Self { quantity, target, context })
    }

    /// The answer, with what has to be said about it.
    fn answer(&self, request: &ConvertRequest) -> Result<(Quantity, Notes), UnitError> {
        let mut notes = Notes::default();
        let answer = to(&self.quantity, &self.target, &self.context, &mut notes).map_err(|e| {
            match e.problem() {
                Problem::AmbiguousPpm { .. } | Problem::NotConvertible { .. } => {
                    e.or_at(1).reading(&request.to).in_field("/to")
                }
                Problem::NeedsBulkDensity { .. } => e.in_field("/bulk_density"),
                _ => e.or_at(1).reading(&request.quantity).in_field("/quantity"),
            }
        })?;
        if !answer.number().is_finite() {
            return Err(UnitError::new(Problem::OutOfRange {
                quantity: "the answer",
                value: format!("not a number that fits {}", answer.unit().code()),
                range: "a finite number".to_owned(),
            }));
        }
        if request.ppm_means.is_some() && Quantity::parse(&request.quantity).is_err() {
            let words = self.quantity.unit_words();
            notes.note(format!("a bare ppm is read as {words}, by the setting"));
        }
        notes.about_spelling(&request.quantity, &self.quantity.unit());
        notes.about_spelling(&request.to, &answer.unit());
        notes.about_ppm(&request.quantity, &self.quantity);
        notes.about_ppm(&request.to, &answer);
        notes.about_sources(&self.quantity);
        notes.about_sources(&answer);
        Ok((answer, notes))
    }
}

impl ConvertRequest {
    fn compensation(&self) -> Result<Compensation, UnitError> {
        let way = self.ec_compensation.unwrap_or_default();
        match (way, self.ec_percent_per_k) {
            (EcCompensation::Linear, None) => Ok(Compensation::METER),
            (EcCompensation::Linear, Some(percent)) => Ok(Compensation::Linear {
                per_kelvin: TemperatureCoefficient::from_percent_per_kelvin(percent)
                    .map_err(|e| e.in_field("/ec_percent_per_k"))?,
            }),
            (EcCompensation::NaturalWater, None) => Ok(Compensation::NaturalWater),
            (EcCompensation::NaturalWater, Some(_)) => Err(UnitError::new(Problem::Conflict {
                first: "ec_compensation natural_water".to_owned(),
                second: "ec_percent_per_k".to_owned(),
            })
            .in_field("/ec_percent_per_k")),
        }
    }
}

/// What a conversion may need beside the two texts.
#[derive(Debug, Clone, Copy)]
struct Context {
    compensation: Compensation,
    density: Option<MassDensity>,
}

/// What the number is counted as or read on, for the answer.
fn basis(q: &Quantity) -> Option<String> {
    match q.subject() {
        Subject::Plain => match q.dimension() {
            D::Conductivity => Some("at 25 °C".to_owned()),
            _ => None,
        },
        Subject::Hardness(None) => Some("hardness".to_owned()),
        Subject::Alkalinity(None) => Some("alkalinity".to_owned()),
        Subject::Feed => Some("feed".to_owned()),
        Subject::Meter(scale) => Some(format!("meter {scale}")),
        Subject::ReadAt { number, unit } => {
            Some(format!("at {} {}", crate::round::shortest(number), unit.trade))
        }
        Subject::Humidity => Some("RH".to_owned()),
        Subject::Difference => Some("difference".to_owned()),
        other => other.basis().map(|b| b.symbol.to_owned()),
    }
}

fn refuse(q: &Quantity, t: &Target, why: impl Into<String>, instead: &'static str) -> UnitError {
    UnitError::new(Problem::NotConvertible {
        from: q.rounded(),
        to: t.words(),
        why: why.into(),
        instead,
    })
}

/// Two kinds that have nothing to do with each other.
fn other_kind(q: &Quantity, t: &Target) -> UnitError {
    refuse(
        q,
        t,
        format!(
            "the first is {}, the second {}",
            q.dimension().with_article(),
            t.dimension().with_article()
        ),
        "Convert to a unit of the same kind",
    )
}

/// What a feed strength, an EC and a nutrient have between them is the product.
fn needs_product(q: &Quantity, t: &Target) -> UnitError {
    refuse(
        q,
        t,
        "which salts a feed holds decides how well it conducts and how much of it is one nutrient, \
         so this needs the product",
        "Use a recipe with the product's label: it gives ppm of each nutrient, feed strength and \
         what the meter will read side by side",
    )
}

/// Converts a quantity to a target.
fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, UnitError> {
    let unit = t.unit;
    // The same unit and subject: the number as it is.
    if unit == q.unit() && t.subject == q.subject() {
        return Ok(*q);
    }
    let same = |si: f64| q.with(unit.of_si(si), unit, q.subject());
    let si = q.unit().to_si(q.number());
    let bare_target = t.subject == Subject::Plain;
    match q.measure() {
        Measure::Conductivity(_) | Measure::SpecificConductance(_) | Measure::Meter(..) => {
            ec::to(q, t, context, notes)
        }
        Measure::AsBasis(..)
        | Measure::Hardness(_)
        | Measure::Alkalinity(_)
        | Measure::ChargePerVolume(_)
        | Measure::AmountPerVolume(_) => solute::to(q, t, notes),
        Measure::Mass(_)
        | Measure::Volume(_)
        | Measure::MassPerVolume(_)
        | Measure::VolumeFraction(_)
        | Measure::FeedStrength(_) => powder::to(q, t, context, notes),
        Measure::Injector(ratio) => match t.dimension() {
            D::InjectorRatio => Ok(q.with(unit.of_si(ratio.dilution()), unit, Subject::Plain)),
            D::VolumeFraction | D::Percentage => {
                notes.note("the share of stock solution in the finished feed, by volume");
                Ok(q.with(unit.of_si(ratio.stock_share().value), unit, Subject::Plain))
            }
            _ => Err(other_kind(q, t)),
        },
        Measure::MassFraction(_, from) => {
            let basis = t.subject.basis().or(from);
            if !matches!(unit.dimension(), D::MassFraction | D::Percentage) {
                return Err(match t.dimension() {
                    D::AsBasis | D::MassPerVolume => refuse(
                        q,
                        t,
                        "a share by mass becomes a mass per volume only with the density of the \
                         liquid",
                        "Give the product with its density to a recipe",
                    ),
                    _ => other_kind(q, t),
                });
            }
            if matches!(t.subject, Subject::Humidity) {
                return Err(other_kind(q, t));
            }
            let factor = match (from, basis) {
                (Some(a), Some(b)) => a.factor_to(b).ok_or_else(|| solute::analytes(q, t, a, b))?,
                (None, Some(_)) => return Err(no_basis(q, "20 % P2O5")),
                _ => 1.0,
            };
            let subject = match (unit.dimension(), basis) {
                (D::MassFraction, Some(b)) => Subject::Basis(b),
                (D::MassFraction, None) => Subject::Plain,
                (_, b) => Subject::ByMass(b),
            };
            Ok(q.with(unit.of_si(si * factor), unit, subject))
        }
        Measure::Percentage(_) => match t.dimension() {
            D::Percentage => Ok(same(si)),
            D::MassFraction | D::AsBasis => Err(no_basis(q, "20 % N or 46 % w/w")),
            _ => Err(other_kind(q, t)),
        },
        Measure::Humidity(_) => match t.dimension() {
            D::Percentage | D::Humidity => Ok(same(si)),
            _ => Err(other_kind(q, t)),
        },
        Measure::TemperatureInterval(_) => {
            if unit.dimension() == D::Temperature {
                let kelvins = q.unit().interval_to_si(q.number());
                Ok(q.with(unit.interval_of_si(kelvins), unit, Subject::Difference))
            } else {
                Err(other_kind(q, t))
            }
        }
        _ if q.dimension() == t.dimension() && bare_target => Ok(same(si)),
        _ => Err(other_kind(q, t)),
    }
}

fn no_basis(q: &Quantity, examples: &'static str) -> UnitError {
    UnitError::new(Problem::NoBasis { amount: q.rounded(), examples })
}
