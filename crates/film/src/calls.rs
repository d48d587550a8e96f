//! The calls of this crate.

use guardcell_call::{Call, Error, Group};

/// Dew point, wet bulb and vapour pressure deficit of moist air.
#[derive(Clone, Copy, Debug)]
pub struct Air;

impl Call for Air {
    type Request = crate::AirRequest;
    type Response = crate::AirReport;
    const NAME: &'static str = "air";
    const PATH: &'static str = "air";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "Dew point, wet bulb and vapour pressure deficit of moist air";
    const DESCRIPTION: &'static str = "Psychrometrics of one reading of temperature and relative \
        humidity, at sea level pressure unless `pressure_kpa` is given.";
    const EXAMPLE: &'static str = include_str!("../calls/air.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::air(request)?)
    }
}

/// How one film dries and what it leaves.
#[derive(Clone, Copy, Debug)]
pub struct Film;

impl Call for Film {
    type Request = crate::FilmRequest;
    type Response = crate::FilmReport;
    const NAME: &'static str = "film";
    const PATH: &'static str = "films";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "How one film dries and what it leaves";
    const DESCRIPTION: &'static str = "Energy and mass balance of a film of feed on a leaf: minutes \
        wet, the strength of the last of it, the share taken up, the residue with its probability, \
        and the limit above which it burns.";
    const EXAMPLE: &'static str = include_str!("../calls/film.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::film(request)?)
    }
}

impl From<crate::FilmError> for Error {
    fn from(e: crate::FilmError) -> Self {
        use crate::FilmError as F;
        use guardcell_error::Code;
        match e {
            F::OutOfRange { pointer, what, value, low, high, unit } => Self::new(
                Code::OutOfRange,
                format!("{what} {value} {unit} is out of range"),
                format!("give {low} to {high} {unit}"),
            )
            .at(pointer),
            F::AirTwice => Self::new(
                Code::Conflict,
                "both air_m_s and air_words are given",
                "give the measured speed or the word",
            )
            .at("/air_words"),
            F::Empty { what } => {
                Self::new(Code::Missing, format!("{what} is empty"), "give at least one")
            }
        }
    }
}
