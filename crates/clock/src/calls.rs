//! The functions that other programs can call.

use crate::day_request::DayRequest;
use crate::day_response::{DayResponse, report};
use guardcell_call::{Call, Error, Group};

/// Sun, light and openings of one date.
#[derive(Clone, Copy, Debug)]
pub struct Day;

impl Call for Day {
    type Request = DayRequest;
    type Response = DayResponse;
    const NAME: &'static str = "day";
    const PATH: &'static str = "days";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "Sun, light and openings of one date";
    const DESCRIPTION: &'static str = "Needs a location, its time zone and a date; lamps, water status \
        and the air hour by hour are optional. Sunrise, sunset and civil twilight are those of the \
        SPA (Reda & Andreas 2004) for a level horizon, within a second. Openings are given for a C3, a \
        CAM, a facultative and an unknown pathway; their probabilities are a judgement on published \
        gas exchange, not measured frequencies.";
    const EXAMPLE: &'static str = include_str!("../calls/day.json");

    fn run(request: &DayRequest) -> Result<DayResponse, Error> {
        report(request)
    }
}
