//! From what a text says to a quantity that makes sense, or what is wrong with it.

use super::read::{Found, Mark, Reading, conflict};
use super::{PpmMeaning, Quantity, Subject, Target, Unit, dimension, lookup};
use crate::basis::{Basis, N};
use crate::dimension::Dimension as D;
use crate::error::{Problem, UnitError};
use crate::injector::{InjectorConvention, InjectorRatio};
use crate::round::{shortest, significant};
use crate::table::UnitDef;
use crate::tds_scale::Scale;
use std::sync::LazyLock;

/// A quantity: there has to be a number, and a ppm has to say of what.
pub(super) fn quantity(
    reading: Reading,
    ppm: Option<PpmMeaning>,
    expected: Option<D>,
) -> Result<Quantity, UnitError> {
    let end = reading.end;
    let example = match expected {
        Some(d) => d.example(),
        None => "150 ppm N or 1.4 mS/cm",
    };
    let Some(number) = reading.number.clone() else {
        return Err(UnitError::at(Problem::NoNumber, 1));
    };
    if let Some(injector) = &reading.injector {
        return injector_ratio(&reading, injector, number.is);
    }
    let Some(unit) = reading.unit.clone() else {
        return Err(UnitError::at(
            Problem::NoUnit { expected: format!("the unit too, such as {example}") },
            end,
        ));
    };
    let (whole, subject) = sense(&reading, &unit)?;
    let (whole, subject) = if whole.dimension() == D::Ppm && subject == Subject::Plain {
        let column = unit.column;
        let meaning = match (ppm, expected) {
            // A function that reads a feed strength, hardness … still wants it said.
            (Some(meaning), _) => meaning,
            (None, _) => {
                return Err(UnitError::at(
                    Problem::AmbiguousPpm { amount: number.text.clone() },
                    column,
                ));
            }
        };
        match meaning {
            PpmMeaning::N => (dissolved(whole), Subject::Basis(N::INFO)),
            PpmMeaning::Feed => (dissolved(whole), Subject::Feed),
            PpmMeaning::Meter500 => (whole, Subject::Meter(Scale::S500)),
            PpmMeaning::Meter640 => (whole, Subject::Meter(Scale::S640)),
            PpmMeaning::Meter700 => (whole, Subject::Meter(Scale::S700)),
        }
    } else {
        (whole, subject)
    };
    check_range(number.is, whole, subject).map_err(|e| e.or_at(number.column))?;
    Ok(Quantity { number: number.is, unit: whole, subject })
}

/// A target unit: no number, and a bare ppm stays open.
pub(super) fn target(reading: Reading) -> Result<Target, UnitError> {
    let Some(unit) = reading.unit.clone() else {
        return Err(UnitError::at(
            Problem::NoUnit {
                expected: "a unit, such as ppm P, mg/L CaCO3 or mS/cm at 25 °C".to_owned(),
            },
            1,
        ));
    };
    let (unit, subject) = sense(&reading, &unit)?;
    Ok(Target { unit, subject })
}

fn injector_ratio(
    reading: &Reading,
    injector: &Found<InjectorConvention>,
    parts: f64,
) -> Result<Quantity, UnitError> {
    if let Some(unit) = &reading.unit {
        return Err(conflict(&injector.text, &unit.text, unit.column));
    }
    let ratio = InjectorRatio::new(parts, injector.is).map_err(|e| e.or_at(injector.column))?;
    let code = match ratio.convention() {
        InjectorConvention::InTotal => "1:N",
        InjectorConvention::ToWater => "1+N",
    };
    let Some(def) = lookup::by_code(code) else {
        return Err(UnitError::at(Problem::NoNumber, injector.column));
    };
    Ok(Quantity { number: parts, unit: Unit::single(def), subject: Subject::Plain })
}

/// mg/L or µg/L for ppm or ppb of something dissolved (1 kg of dilute solution is 1 L).
/// Any other unit stays as it is.
pub(crate) fn dissolved(unit: Unit) -> Unit {
    static MG_L: LazyLock<Option<Unit>> = LazyLock::new(|| Unit::of_codes("mg", 1.0, "L"));
    static UG_L: LazyLock<Option<Unit>> = LazyLock::new(|| Unit::of_codes("ug", 1.0, "L"));
    if unit.dimension() != D::Ppm {
        return unit;
    }
    let ppb = unit.definitions().any(|d| d.code == "[ppb]");
    (if ppb { *UG_L } else { *MG_L }).unwrap_or(unit)
}

/// The unit and subject that the words make together.
fn sense(reading: &Reading, unit: &Found<Unit>) -> Result<(Unit, Subject), UnitError> {
    let whole = unit.is;
    let mut said = Said::of(reading);
    let subject = match whole.dimension() {
        D::Ppm => {
            if let Some(meter) = said.meter.take() {
                let scale = said.scale.take().ok_or_else(|| {
                    UnitError::at(Problem::AmbiguousPpm { amount: amount(reading) }, meter)
                })?;
                said.nothing_left(unit)?;
                return Ok((whole, Subject::Meter(scale.is)));
            }
            if let Some(scale) = said.scale.take() {
                said.nothing_left(unit)?;
                return Ok((whole, Subject::Meter(scale.is)));
            }
            let subject = said.dissolved(unit, reading)?;
            said.nothing_left(unit)?;
            if subject == Subject::Plain {
                return Ok((whole, subject));
            }
            return Ok((dissolved(whole), subject));
        }
        D::MassPerVolume => said.dissolved(unit, reading)?,
        D::AmountPerVolume | D::ChargePerVolume => {
            if said.take(Mark::Hardness) {
                Subject::Hardness(None)
            } else if said.take(Mark::Alkalinity) {
                Subject::Alkalinity(None)
            } else {
                let basis = said.basis.take();
                if let Some(basis) = &basis
                    && whole.dimension() == D::ChargePerVolume
                    && basis.is.charge == 0
                {
                    return Err(UnitError::at(
                        Problem::NoCharge { basis: basis.is.symbol },
                        basis.column,
                    ));
                }
                basis.map_or(Subject::Plain, |b| Subject::Basis(b.is))
            }
        }
        // °dH hardness and °dKH alkalinity only repeat themselves.
        D::Hardness => {
            said.take(Mark::Hardness);
            Subject::Plain
        }
        D::Alkalinity => {
            said.take(Mark::Alkalinity);
            Subject::Plain
        }
        D::Percentage => {
            if said.take(Mark::Humidity) {
                Subject::Humidity
            } else if said.take(Mark::Share('w', 'v')) {
                let basis = said.basis.take();
                said.nothing_left(unit)?;
                let whole = Unit::of_codes("g", 100.0, "mL").unwrap_or(whole);
                return Ok((whole, basis.map_or(Subject::Plain, |b| Subject::Basis(b.is))));
            } else if said.take(Mark::Share('v', 'v')) {
                said.nothing_left(unit)?;
                let whole = Unit::of_codes("mL", 100.0, "mL").unwrap_or(whole);
                return Ok((whole, Subject::Plain));
            } else if said.take(Mark::Share('w', 'w')) {
                Subject::ByMass(said.basis.take().map(|b| b.is))
            } else {
                // A percentage of a nutrient is by mass, as in every guaranteed analysis.
                match said.basis.take() {
                    Some(b) => Subject::ByMass(Some(b.is)),
                    None => Subject::Plain,
                }
            }
        }
        D::MassFraction => {
            said.take(Mark::Share('w', 'w'));
            said.basis.take().map_or(Subject::Plain, |b| Subject::Basis(b.is))
        }
        D::VolumeFraction => {
            said.take(Mark::Share('v', 'v'));
            Subject::Plain
        }
        D::Conductivity => match said.at.take() {
            Some(at) => {
                let (number, temperature) = at.is;
                check_temperature(number, temperature).map_err(|e| e.or_at(at.column))?;
                Subject::ReadAt { number, unit: temperature }
            }
            None => Subject::Plain,
        },
        D::Temperature => {
            if said.take(Mark::Difference) {
                Subject::Difference
            } else {
                Subject::Plain
            }
        }
        _ => Subject::Plain,
    };
    said.nothing_left(unit)?;
    Ok((whole, subject))
}

fn amount(reading: &Reading) -> String {
    reading.number.as_ref().map_or_else(String::new, |n| n.text.clone())
}

/// What is said and not yet used.
struct Said {
    basis: Option<Found<&'static crate::basis::BasisInfo>>,
    marks: Vec<Found<Mark>>,
    meter: Option<usize>,
    scale: Option<Found<Scale>>,
    at: Option<Found<(f64, &'static UnitDef)>>,
}

impl Said {
    fn of(reading: &Reading) -> Self {
        Self {
            basis: reading.basis.clone(),
            marks: reading.marks.clone(),
            meter: reading.meter.as_ref().map(|m| m.column),
            scale: reading.scale.clone(),
            at: reading.at.clone(),
        }
    }

    /// Whether a mark was set; it counts as used.
    fn take(&mut self, mark: Mark) -> bool {
        let before = self.marks.len();
        self.marks.retain(|m| m.is != mark);
        self.marks.len() < before
    }

    /// What a mass per volume is of.
    fn dissolved(&mut self, unit: &Found<Unit>, reading: &Reading) -> Result<Subject, UnitError> {
        let hardness = self.take(Mark::Hardness);
        let alkalinity = self.take(Mark::Alkalinity);
        if hardness || alkalinity {
            let Some(basis) = self.basis.take() else {
                let word = if hardness { "hardness" } else { "alkalinity" };
                return Err(UnitError::at(
                    Problem::NoBasis {
                        amount: format!("{} {} {word}", amount(reading), unit.text),
                        examples: if hardness {
                            "250 mg/L CaCO3 hardness"
                        } else {
                            "150 mg/L CaCO3 alkalinity or 183 mg/L HCO3 alkalinity"
                        },
                    },
                    unit.column,
                ));
            };
            let fits = match basis.is.symbol {
                "CaCO3" => true,
                "CaO" => hardness,
                "HCO3" => alkalinity,
                _ => false,
            };
            if !fits {
                let word = if hardness { "hardness" } else { "alkalinity" };
                return Err(conflict(&basis.text, word, basis.column));
            }
            return Ok(if hardness {
                Subject::Hardness(Some(basis.is))
            } else {
                Subject::Alkalinity(Some(basis.is))
            });
        }
        if let Some(basis) = self.basis.take() {
            return Ok(Subject::Basis(basis.is));
        }
        Ok(if self.take(Mark::Feed) { Subject::Feed } else { Subject::Plain })
    }

    /// Everything that was said has to have a meaning with this unit.
    fn nothing_left(&self, unit: &Found<Unit>) -> Result<(), UnitError> {
        let basis = self.basis.iter().map(|f| (f.text.as_str(), f.column));
        let marks = self.marks.iter().map(|f| (f.text.as_str(), f.column));
        let scale = self.scale.iter().map(|f| (f.text.as_str(), f.column));
        let at = self.at.iter().map(|f| (f.text.as_str(), f.column));
        let meter = self.meter.iter().map(|column| ("meter", *column));
        match basis.chain(marks).chain(scale).chain(at).chain(meter).next() {
            Some((text, column)) => Err(conflict(&unit.text, text, column)),
            None => Ok(()),
        }
    }
}

fn out_of_range(quantity: &'static str, value: String, range: &str) -> UnitError {
    UnitError::new(Problem::OutOfRange { quantity, value, range: range.to_owned() })
}

fn check_temperature(number: f64, unit: &'static UnitDef) -> Result<(), UnitError> {
    let kelvin = Unit::single(unit).to_si(number);
    // The smallest rounding below 0 K still is 0 K (-273.15 °C is not exact in binary).
    if kelvin.is_finite() && kelvin > -1e-9 {
        return Ok(());
    }
    Err(out_of_range(
        "the temperature",
        format!("{} {}", shortest(number), unit.trade),
        "above absolute zero, −273.15 °C, and finite",
    ))
}

pub(crate) fn check_range(number: f64, unit: Unit, subject: Subject) -> Result<(), UnitError> {
    let kind = dimension(&unit, subject);
    let value = || format!("{} {}", shortest(significant(number, 10)), unit.trade());
    match kind {
        D::Temperature => {
            return match unit.definitions().next() {
                Some(def) => check_temperature(number, def),
                None => Ok(()),
            };
        }
        D::TemperatureInterval => {}
        _ if number < 0.0 => {
            return Err(out_of_range(
                "the amount",
                value(),
                "zero or more (only temperatures can be negative)",
            ));
        }
        D::Humidity if number > 100.0 => {
            return Err(out_of_range("the relative humidity", value(), "0 to 100 %"));
        }
        D::MassFraction if unit.to_si(number) > 1.0 + 1e-12 => {
            return Err(out_of_range("the share by mass", value(), "at most 100 %"));
        }
        _ => {}
    }
    if unit.to_si(number).is_finite() {
        Ok(())
    } else {
        Err(out_of_range("the amount", value(), "a number that fits its unit"))
    }
}
