//! Ranges of fields, declared once beside the type.

use guardcell_error::{Code, Error};

/// What a field of a request may hold.
///
/// ```
/// use guardcell_call::{Bound, Limited};
/// const HUMIDITY: Bound = Bound::number(0.0, 100.0, "%");
/// assert!(100.0_f64.check(&HUMIDITY, "/rh_percent").is_ok());
/// let error = 100.1_f64.check(&HUMIDITY, "/rh_percent").unwrap_err();
/// assert_eq!(error.to_string(), "/rh_percent: 100.1 % is out of range; give 0 to 100 %");
/// assert!(f64::NAN.check(&HUMIDITY, "/rh_percent").is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Bound {
    /// A number within a range.
    Number {
        /// Lowest value.
        min: f64,
        /// Whether the lowest value itself is refused.
        min_excluded: bool,
        /// Highest value, accepted.
        max: f64,
        /// Unit for messages; empty for none.
        unit: &'static str,
    },
    /// A text of this many characters.
    Text {
        /// Fewest characters.
        min: usize,
        /// Most characters.
        max: usize,
    },
    /// A list of this many items.
    Items {
        /// Fewest items.
        min: usize,
        /// Most items.
        max: usize,
    },
}

impl Bound {
    /// A number from `min` to `max`, both accepted.
    #[must_use]
    pub const fn number(min: f64, max: f64, unit: &'static str) -> Self {
        Self::Number { min, min_excluded: false, max, unit }
    }

    /// A number above `min`, at most `max`.
    #[must_use]
    pub const fn above(min: f64, max: f64, unit: &'static str) -> Self {
        Self::Number { min, min_excluded: true, max, unit }
    }

    /// A text of `min` to `max` characters.
    #[must_use]
    pub const fn text(min: usize, max: usize) -> Self {
        Self::Text { min, max }
    }

    /// A list of `min` to `max` items.
    #[must_use]
    pub const fn items(min: usize, max: usize) -> Self {
        Self::Items { min, max }
    }

    fn check_number(&self, value: f64, pointer: &str) -> Result<(), Error> {
        let Self::Number { min, min_excluded, max, unit } = *self else { return Ok(()) };
        // Written so that NaN is refused.
        let low = if min_excluded { value > min } else { value >= min };
        if low && value <= max {
            return Ok(());
        }
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        let hint = match (min_excluded, max.is_finite()) {
            (true, true) => format!("give more than {min} and at most {max}{unit}"),
            (true, false) => format!("give more than {min}{unit}"),
            (false, true) => format!("give {min} to {max}{unit}"),
            (false, false) => format!("give at least {min}{unit}"),
        };
        // A slip of the keyboard is not repeated with three hundred zeros.
        let given = if value == 0.0 || (1e-9..1e9).contains(&value.abs()) {
            value.to_string()
        } else {
            format!("{value:e}")
        };
        Err(Error::new(Code::OutOfRange, format!("{given}{unit} is out of range"), hint)
            .at(pointer))
    }

    fn check_count(&self, count: usize, pointer: &str) -> Result<(), Error> {
        let (min, max, what) = match *self {
            Self::Text { min, max } => (min, max, "characters"),
            Self::Items { min, max } => (min, max, "items"),
            Self::Number { .. } => return Ok(()),
        };
        if (min..=max).contains(&count) {
            return Ok(());
        }
        let (code, detail) = match (count, self) {
            (0, _) => (Code::Missing, "this is empty".to_owned()),
            (_, Self::Text { .. }) => (Code::TooLong, format!("this has {count} characters")),
            _ => (Code::TooMany, format!("this has {count} items")),
        };
        Err(Error::new(code, detail, format!("give {min} to {max} {what}")).at(pointer))
    }
}

/// A value that a [`Bound`] can limit. `None` is always accepted.
pub trait Limited {
    /// Refuses a value outside the bound.
    ///
    /// # Errors
    /// [`Code::OutOfRange`], [`Code::TooLong`], [`Code::TooMany`] or [`Code::Missing`] at `pointer`.
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error>;
}

impl Limited for f64 {
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
        bound.check_number(*self, pointer)
    }
}

macro_rules! whole {
    ($($number:ty)*) => {$(
        impl Limited for $number {
            fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
                bound.check_number(f64::from(*self), pointer)
            }
        }
    )*};
}
whole!(u8 u16 u32 i32);

impl Limited for str {
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
        bound.check_count(self.chars().count(), pointer)
    }
}

impl Limited for String {
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
        self.as_str().check(bound, pointer)
    }
}

impl<T> Limited for Vec<T> {
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
        bound.check_count(self.len(), pointer)
    }
}

impl<T: Limited> Limited for Option<T> {
    fn check(&self, bound: &Bound, pointer: &str) -> Result<(), Error> {
        self.as_ref().map_or(Ok(()), |value| value.check(bound, pointer))
    }
}

/// A type whose fields have declared bounds; made by [`bounds!`](crate::bounds).
pub trait Bounded {
    /// Field names and what they may hold.
    const BOUNDS: &'static [(&'static str, Bound)];

    /// Refuses the first field outside its bound, with a pointer relative to this value.
    ///
    /// # Errors
    /// As [`Limited::check`].
    fn check_bounds(&self) -> Result<(), Error>;
}

/// Declares what the fields of a type may hold: checked by [`Bounded::check_bounds`], and written
/// into the schema by `schema::bounds` (feature `schema`).
///
/// ```
/// use guardcell_call::{Bound, Bounded, bounds};
///
/// struct Reading { temp_c: f64, rh_percent: Option<f64>, note: String }
///
/// bounds! { Reading {
///     temp_c: Bound::number(-5.0, 50.0, "°C"),
///     rh_percent: Bound::number(0.0, 100.0, "%"),
///     note: Bound::text(0, 200),
/// } }
///
/// let reading = Reading { temp_c: 72.0, rh_percent: None, note: String::new() };
/// assert_eq!(reading.check_bounds().unwrap_err().pointer(), "/temp_c");
/// ```
#[macro_export]
macro_rules! bounds {
    ($type:ty { $($field:ident: $bound:expr),* $(,)? }) => {
        impl $crate::Bounded for $type {
            const BOUNDS: &'static [(&'static str, $crate::Bound)] =
                &[$((stringify!($field), $bound),)*];

            fn check_bounds(&self) -> ::core::result::Result<(), $crate::Error> {
                $($crate::Limited::check(&self.$field, &$bound, concat!("/", stringify!($field)))?;)*
                Ok(())
            }
        }
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bound_accepts_its_ends_and_refuses_the_next_number_outside() {
        let bound = Bound::number(0.01, 0.5, "");
        for good in [0.01, 0.5] {
            assert!(good.check(&bound, "").is_ok());
        }
        for bad in [0.01_f64.next_down(), 0.5_f64.next_up(), f64::INFINITY, f64::NEG_INFINITY] {
            assert!(bad.check(&bound, "").is_err(), "{bad}");
        }
        let above = Bound::above(0.0, 2.0, "L");
        assert!(0.0.check(&above, "").is_err());
        assert!(f64::MIN_POSITIVE.check(&above, "").is_ok());
    }

    #[test]
    fn counts_are_of_characters_and_items() {
        assert!("æææ".check(&Bound::text(1, 3), "").is_ok());
        let error = "ææææ".check(&Bound::text(1, 3), "/name").unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::TooLong, "/name"));
        let error = Vec::<u8>::new().check(&Bound::items(1, 3), "/plants").unwrap_err();
        assert_eq!(error.code(), Code::Missing);
        assert_eq!(vec![0; 4].check(&Bound::items(1, 3), "").unwrap_err().code(), Code::TooMany);
    }
}
