//! From what a text says to a quantity that makes sense, or what is wrong with it.

use super::lookup;
use super::quantity::{PpmMeaning, Quantity, Subject, Target, dimension};
use super::reading::{Found, Reading};
use super::subject::{check_temperature, dissolved, unit_and_subject};
use super::unit::Unit;
use crate::basis::{Basis, N};
use crate::dimension::Dimension as D;
use crate::fault;
use crate::injector::{InjectorConvention, InjectorRatio};
use crate::round::{shortest, significant};
use crate::tds_scale::Scale;
use guardcell_error::Error;

/// A quantity: the number is required, and a ppm must say of what.
pub(super) fn quantity(
    reading: &Reading,
    ppm: Option<PpmMeaning>,
    expected: Option<D>,
) -> Result<Quantity, Error> {
    let end = reading.end;
    let example = match expected {
        Some(d) => d.example(),
        None => "150 ppm N or 1.4 mS/cm",
    };
    let Some(number) = &reading.number else {
        return Err(fault::no_number().at_column(1));
    };
    if let Some(injector) = &reading.injector {
        return injector_ratio(reading, injector, number.is);
    }
    let Some(unit) = &reading.unit else {
        return Err(fault::no_unit(&format!("the unit too, such as {example}")).at_column(end));
    };
    let (whole, subject) = unit_and_subject(reading, unit)?;
    let (whole, subject) = if whole.dimension() == D::Ppm && subject == Subject::Plain {
        let Some(meaning) = ppm else {
            return Err(fault::ambiguous_ppm(&number.text).at_column(unit.column));
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
    check_range(number.is, whole, subject).map_err(|e| e.at_column(number.column))?;
    Ok(Quantity { number: number.is, unit: whole, subject })
}

/// A target unit: no number, and a bare ppm stays open.
pub(super) fn target(reading: &Reading) -> Result<Target, Error> {
    let Some(unit) = &reading.unit else {
        let example = "a unit, such as ppm P, mg/L CaCO3 or mS/cm at 25 °C";
        return Err(fault::no_unit(example).at_column(1));
    };
    let (unit, subject) = unit_and_subject(reading, unit)?;
    Ok(Target { unit, subject })
}

fn injector_ratio(
    reading: &Reading,
    injector: &Found<InjectorConvention>,
    parts: f64,
) -> Result<Quantity, Error> {
    if let Some(unit) = &reading.unit {
        return Err(fault::conflict(&injector.text, &unit.text).at_column(unit.column));
    }
    let ratio = InjectorRatio::new(parts, injector.is).map_err(|e| e.at_column(injector.column))?;
    let code = match ratio.convention() {
        InjectorConvention::InTotal => "1:N",
        InjectorConvention::ToWater => "1+N",
    };
    let Some(def) = lookup::by_code(code) else {
        return Err(fault::no_number().at_column(injector.column));
    };
    Ok(Quantity { number: parts, unit: Unit::single(def), subject: Subject::Plain })
}

/// Refuses a number that its kind of quantity cannot have.
pub(crate) fn check_range(number: f64, unit: Unit, subject: Subject) -> Result<(), Error> {
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
            let range = "zero or more (only temperatures can be negative)";
            return Err(fault::out_of_range("the amount", &value(), range));
        }
        D::Humidity if unit.to_si(number) > 1.0 + 1e-12 => {
            return Err(fault::out_of_range("the relative humidity", &value(), "0 to 100 %"));
        }
        D::MassFraction if unit.to_si(number) > 1.0 + 1e-12 => {
            return Err(fault::out_of_range("the share by mass", &value(), "at most 100 %"));
        }
        _ => {}
    }
    if unit.to_si(number).is_finite() {
        Ok(())
    } else {
        Err(fault::out_of_range("the amount", &value(), "a number that is finite in SI units"))
    }
}
