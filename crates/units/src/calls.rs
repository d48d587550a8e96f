//! The calls of this crate.

use crate::convert::ConvertRequest;
use guardcell_call::{Call, Error, Group};

/// A quantity of the trade in another unit or basis.
#[derive(Clone, Copy, Debug)]
pub struct Convert;

impl Call for Convert {
    type Request = ConvertRequest;
    type Response = crate::convert::Convert;
    const NAME: &'static str = "convert";
    const PATH: &'static str = "conversions";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "A quantity of the trade in another unit or basis";
    const DESCRIPTION: &'static str = "Reads a quantity as growers and labels write it (ppm N, °dH, \
        mS/cm at 18 °C, tsp/gal) and writes it in the unit and basis asked for. A bare ppm is \
        refused unless `ppm_means` says what it counts. Conversions that need an assumption name \
        it in `notes`, with its source.";
    const EXAMPLE: &'static str = include_str!("../calls/convert.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::convert::convert(request)?)
    }
}

impl From<crate::UnitError> for Error {
    fn from(e: crate::UnitError) -> Self {
        let code = e.code().parse().unwrap_or(guardcell_error::Code::InvalidText);
        let detail = e.text().map_or_else(
            || e.problem().to_string(),
            |text| format!("{:?}: {}", guardcell_error::excerpt(text, 60), e.problem()),
        );
        Self::new(code, detail, e.remedy()).at(e.pointer().unwrap_or_default())
    }
}
