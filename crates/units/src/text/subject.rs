//! What a quantity is of: the meaning of the words beside its unit.

use super::quantity::Subject;
use super::reading::{Found, Mark, Reading};
use super::unit::Unit;
use crate::basis::BasisInfo;
use crate::dimension::Dimension as D;
use crate::fault;
use crate::round::shortest;
use crate::table::UnitDef;
use crate::tds_scale::Scale;
use guardcell_error::Error;
use std::sync::LazyLock;

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
pub(super) fn unit_and_subject(
    reading: &Reading,
    unit: &Found<Unit>,
) -> Result<(Unit, Subject), Error> {
    let whole = unit.is;
    let mut words = Words::new(reading);
    let (unit_meant, subject) = match whole.dimension() {
        D::Ppm => match words.meter_scale(reading)? {
            Some(scale) => (whole, Subject::Meter(scale)),
            None => match words.dissolved(unit, reading)? {
                Subject::Plain => (whole, Subject::Plain),
                subject => (dissolved(whole), subject),
            },
        },
        D::MassPerVolume => (whole, words.dissolved(unit, reading)?),
        D::AmountPerVolume | D::ChargePerVolume => (whole, words.amount(whole)?),
        // °dH hardness and °dKH alkalinity only repeat themselves.
        D::Hardness => {
            words.take(Mark::Hardness);
            (whole, Subject::Plain)
        }
        D::Alkalinity => {
            words.take(Mark::Alkalinity);
            (whole, Subject::Plain)
        }
        D::Percentage => words.percentage(whole),
        D::MassFraction => {
            words.take(Mark::Share('w', 'w'));
            (whole, words.basis_or_plain())
        }
        D::VolumeFraction => {
            words.take(Mark::Share('v', 'v'));
            (whole, Subject::Plain)
        }
        D::Conductivity => (whole, words.temperature_of_reading()?),
        D::Temperature if words.take(Mark::Difference) => (whole, Subject::Difference),
        _ => (whole, Subject::Plain),
    };
    words.all_used(unit)?;
    Ok((unit_meant, subject))
}

/// Refuses temperatures below absolute zero.
pub(super) fn check_temperature(number: f64, unit: &'static UnitDef) -> Result<(), Error> {
    let kelvin = Unit::single(unit).to_si(number);
    // A rounding error below 0 K is 0 K (-273.15 °C is not exact in binary).
    if kelvin.is_finite() && kelvin > -1e-9 {
        return Ok(());
    }
    Err(fault::out_of_range(
        "the temperature",
        &format!("{} {}", shortest(number), unit.trade),
        "a finite temperature above absolute zero, −273.15 °C",
    ))
}

fn amount(reading: &Reading) -> &str {
    reading.number.as_ref().map_or("", |n| &n.text)
}

/// The words that have not been given a meaning yet.
struct Words {
    basis: Option<Found<&'static BasisInfo>>,
    marks: Vec<Found<Mark>>,
    meter: Option<u64>,
    scale: Option<Found<Scale>>,
    at: Option<Found<(f64, &'static UnitDef)>>,
}

impl Words {
    fn new(reading: &Reading) -> Self {
        Self {
            basis: reading.basis.clone(),
            marks: reading.marks.clone(),
            meter: reading.meter.as_ref().map(|m| m.column),
            scale: reading.scale.clone(),
            at: reading.at.clone(),
        }
    }

    /// Uses a mark up; whether it was there.
    fn take(&mut self, mark: Mark) -> bool {
        let before = self.marks.len();
        self.marks.retain(|m| m.is != mark);
        self.marks.len() < before
    }

    fn basis_or_plain(&mut self) -> Subject {
        self.basis.take().map_or(Subject::Plain, |b| Subject::Basis(b.is))
    }

    /// The scale of a meter that shows ppm.
    fn meter_scale(&mut self, reading: &Reading) -> Result<Option<Scale>, Error> {
        let meter = self.meter.take();
        match (self.scale.take(), meter) {
            (Some(scale), _) => Ok(Some(scale.is)),
            (None, Some(column)) => Err(fault::ambiguous_ppm(amount(reading)).at_column(column)),
            (None, None) => Ok(None),
        }
    }

    /// What a percentage is of; w/v and v/v change the unit.
    fn percentage(&mut self, whole: Unit) -> (Unit, Subject) {
        // 100 mL for %, 1000 mL for ‰.
        let count = (1.0 / whole.to_si(1.0)).round();
        let over = |top: &str| Unit::of_codes(top, count, "mL").unwrap_or(whole);
        if self.take(Mark::Humidity) {
            (whole, Subject::Humidity)
        } else if self.take(Mark::Share('w', 'v')) {
            (over("g"), self.basis_or_plain())
        } else if self.take(Mark::Share('v', 'v')) {
            (over("mL"), Subject::Plain)
        } else if self.take(Mark::Share('w', 'w')) {
            (whole, Subject::ByMass(self.basis.take().map(|b| b.is)))
        } else {
            // A percentage of a nutrient is by mass, as in every guaranteed analysis.
            let basis = self.basis.take();
            (whole, basis.map_or(Subject::Plain, |b| Subject::ByMass(Some(b.is))))
        }
    }

    fn temperature_of_reading(&mut self) -> Result<Subject, Error> {
        let Some(at) = self.at.take() else { return Ok(Subject::Plain) };
        let (number, unit) = at.is;
        check_temperature(number, unit).map_err(|e| e.at_column(at.column))?;
        Ok(Subject::ReadAt { number, unit })
    }

    /// What an amount of substance or charge per volume is of.
    fn amount(&mut self, whole: Unit) -> Result<Subject, Error> {
        if self.take(Mark::Hardness) {
            return Ok(Subject::Hardness(None));
        }
        if self.take(Mark::Alkalinity) {
            return Ok(Subject::Alkalinity(None));
        }
        match self.basis.take() {
            Some(basis) if whole.dimension() == D::ChargePerVolume && basis.is.charge == 0 => {
                Err(fault::no_charge(basis.is.symbol).at_column(basis.column))
            }
            basis => Ok(basis.map_or(Subject::Plain, |b| Subject::Basis(b.is))),
        }
    }

    /// What a mass per volume is of.
    fn dissolved(&mut self, unit: &Found<Unit>, reading: &Reading) -> Result<Subject, Error> {
        let hardness = self.take(Mark::Hardness);
        if !hardness && !self.take(Mark::Alkalinity) {
            return Ok(match self.basis.take() {
                Some(basis) => Subject::Basis(basis.is),
                None if self.take(Mark::Feed) => Subject::Feed,
                None => Subject::Plain,
            });
        }
        let (word, examples) = if hardness {
            ("hardness", "250 mg/L CaCO3 hardness")
        } else {
            ("alkalinity", "150 mg/L CaCO3 alkalinity or 183 mg/L HCO3 alkalinity")
        };
        let Some(basis) = self.basis.take() else {
            let whole = format!("{} {} {word}", amount(reading), unit.text);
            return Err(fault::no_basis(&whole, examples).at_column(unit.column));
        };
        match (basis.is.symbol, hardness) {
            ("CaCO3" | "CaO", true) => Ok(Subject::Hardness(Some(basis.is))),
            ("CaCO3" | "HCO3", false) => Ok(Subject::Alkalinity(Some(basis.is))),
            _ => Err(fault::conflict(&basis.text, word).at_column(basis.column)),
        }
    }

    /// Refuses words that have no meaning with this unit.
    fn all_used(&self, unit: &Found<Unit>) -> Result<(), Error> {
        let basis = self.basis.iter().map(|f| (f.text.as_str(), f.column));
        let marks = self.marks.iter().map(|f| (f.text.as_str(), f.column));
        let scale = self.scale.iter().map(|f| (f.text.as_str(), f.column));
        let at = self.at.iter().map(|f| (f.text.as_str(), f.column));
        let meter = self.meter.iter().map(|column| ("meter", *column));
        match basis.chain(marks).chain(scale).chain(at).chain(meter).next() {
            Some((text, column)) => Err(fault::conflict(&unit.text, text).at_column(column)),
            None => Ok(()),
        }
    }
}
