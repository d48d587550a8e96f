//! The calls of this crate.

use guardcell_call::{Call, Error, Group};

/// Sun, light and openings of one date.
#[derive(Clone, Copy, Debug)]
pub struct Day;

impl Call for Day {
    type Request = crate::DayRequest;
    type Response = crate::DayReport;
    const NAME: &'static str = "day";
    const PATH: &'static str = "days";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "Sun, light and openings of one date";
    const DESCRIPTION: &'static str = "Sunrise, sunset and twilight at a place, the hours of light \
        under sun or lamps, and when plants of each pathway open their stomata, with the air of the \
        day where it is given.";
    const EXAMPLE: &'static str = include_str!("../calls/day.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::report(request)?)
    }
}

impl From<crate::ClockError> for Error {
    fn from(e: crate::ClockError) -> Self {
        use crate::ClockError as C;
        use guardcell_error::Code;
        let (code, pointer) = match &e {
            C::Latitude(_) => (Code::OutOfRange, "/latitude_deg".to_owned()),
            C::Longitude(_) => (Code::OutOfRange, "/longitude_deg".to_owned()),
            C::Zone(_) => (Code::Unknown, "/time_zone".to_owned()),
            C::LampTimes(_) => (Code::Conflict, "/lamps".to_owned()),
            C::Year(_) => (Code::OutOfRange, "/date".to_owned()),
            C::AirOrder { index, .. } => (Code::Conflict, format!("/hours/{index}")),
            C::Air { index, .. } => (Code::OutOfRange, format!("/hours/{index}")),
            C::Text { at, text, should } => {
                let detail = format!("{:?} cannot be read", guardcell_error::excerpt(text, 60));
                return Self::new(Code::InvalidText, detail, *should).at(*at);
            }
            C::Sun(_) | C::Calendar(_) => (Code::Internal, String::new()),
            _ => (Code::OutOfRange, String::new()),
        };
        Self::new(code, e.to_string(), "").at(pointer)
    }
}
