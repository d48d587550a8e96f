//! Measured values of leaves, kept to the places that the works print.

use crate::packed::Cells;
use guardcell_units::quantity::Length;
use guardcell_units::uom::si::length::micrometer;

/// A carbon isotope ratio δ¹³C against VPDB, kept to a hundredth of a per mille.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Delta13C {
    pub(crate) centi_permil: i16,
}

impl Delta13C {
    /// From the hundredths of a per mille below 0.
    pub(crate) fn unpack(below: u16) -> Self {
        Self { centi_permil: -(below as i16) }
    }

    /// The number in per mille, such as −14.6.
    #[must_use]
    pub fn permil(self) -> f64 {
        f64::from(self.centi_permil) / 100.0
    }
}

/// A leaf thickness, kept to a micrometre.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Thickness {
    pub(crate) micrometres: u16,
}

impl Thickness {
    pub(crate) const fn unpack(micrometres: u16) -> Self {
        Self { micrometres }
    }

    /// The thickness as a length.
    #[must_use]
    pub fn length(self) -> Length {
        Length::new::<micrometer>(f64::from(self.micrometres))
    }

    /// The number of millimetres.
    #[must_use]
    pub fn mm(self) -> f64 {
        f64::from(self.micrometres) / 1000.0
    }
}

/// The lowest and highest of some values, with how many there were (0 where not stated).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span<T> {
    /// The lowest.
    pub low: T,
    /// The highest.
    pub high: T,
    /// How many values.
    pub n: u16,
}

impl<T> Span<T> {
    pub(crate) fn unpack(cells: &mut Cells, value: fn(u16) -> T) -> Option<Self> {
        let (low, high, n) = (cells.option(), cells.number(), cells.number());
        low.map(|low| Self { low: value(low), high: value(high), n })
    }
}
