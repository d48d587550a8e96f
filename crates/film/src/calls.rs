//! The functions that other programs can call.

use crate::air::{AirRequest, AirResponse, air};
use crate::film::{FilmResponse, film};
use crate::film_request::FilmRequest;
use guardcell_call::{Call, Error, Group};

/// Dew point, wet bulb and vapour pressure deficit of moist air.
#[derive(Clone, Copy, Debug)]
pub struct Air;

impl Call for Air {
    type Request = AirRequest;
    type Response = AirResponse;
    const NAME: &'static str = "air";
    const PATH: &'static str = "air";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "Dew point, wet bulb and vapour pressure deficit of moist air";
    const DESCRIPTION: &'static str = "Needs temperature and relative humidity; pressure is that of sea \
        level by default. Equations of the ASHRAE Handbook Fundamentals 2017, chapter 1, over liquid \
        water, also below 0 °C.";
    const EXAMPLE: &'static str = include_str!("../calls/air.json");

    fn run(request: &AirRequest) -> Result<AirResponse, Error> {
        air(request)
    }
}

/// How one film dries and what it leaves.
#[derive(Clone, Copy, Debug)]
pub struct Film;

impl Call for Film {
    type Request = FilmRequest;
    type Response = FilmResponse;
    const NAME: &'static str = "film";
    const PATH: &'static str = "films";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "How one film dries and what it leaves";
    const DESCRIPTION: &'static str = "Needs temperature and humidity of the air; air movement, leaf, film \
        load, composition and passes have defaults. Gives the time to dry, the deposit with its \
        uncertainty and the probability that it is seen, the humidity that keeps the mix wet, uptake \
        and the risk at a root tip. The residue threshold and the crust are calibrated on common \
        practice; uptake is uncertain by a factor of about 3.";
    const EXAMPLE: &'static str = include_str!("../calls/film.json");

    fn run(request: &FilmRequest) -> Result<FilmResponse, Error> {
        film(request)
    }
}
