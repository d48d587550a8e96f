//! What a conversion may need beside the two texts.

use super::request::{ConvertRequest, EcCompensation};
use crate::conductivity::{Compensation, TemperatureCoefficient};
use crate::light::LightSource;
use crate::quantity::MassDensity;
use crate::text::entry;
use guardcell_error::{Code, Error};

#[derive(Debug, Clone, Copy)]
pub(super) struct Context {
    pub(super) compensation: Compensation,
    /// Of a powder.
    pub(super) bulk_density: Option<MassDensity>,
    /// Of a liquid.
    pub(super) density: Option<MassDensity>,
    pub(super) light_source: Option<LightSource>,
}

impl Context {
    pub(super) fn read(request: &ConvertRequest) -> Result<Self, Error> {
        let density = |text: &Option<String>, pointer: &str| match text {
            Some(text) => entry::parse_bulk_density(text).map(Some).map_err(|e| e.at(pointer)),
            None => Ok(None),
        };
        if request.bulk_density.is_some() && request.density.is_some() {
            return Err(Error::new(
                Code::Conflict,
                "a powder has a bulk density and a liquid a density, but both are given",
                "give one of bulk_density and density",
            )
            .at("/density"));
        }
        Ok(Self {
            compensation: compensation(request)?,
            bulk_density: density(&request.bulk_density, "/bulk_density")?,
            density: density(&request.density, "/density")?,
            light_source: request.light_source,
        })
    }
}

fn compensation(request: &ConvertRequest) -> Result<Compensation, Error> {
    const POINTER: &str = "/ec_percent_per_k";
    match (request.ec_compensation.unwrap_or_default(), request.ec_percent_per_k) {
        (EcCompensation::Linear, None) => Ok(Compensation::METER),
        (EcCompensation::Linear, Some(percent)) => {
            let per_kelvin = TemperatureCoefficient::from_percent_per_kelvin(percent);
            Ok(Compensation::Linear { per_kelvin: per_kelvin.map_err(|e| e.at(POINTER))? })
        }
        (EcCompensation::NaturalWater, None) => Ok(Compensation::NaturalWater),
        (EcCompensation::NaturalWater, Some(_)) => Err(Error::new(
            Code::Conflict,
            "the function for natural waters has no coefficient, but one is given",
            "omit ec_percent_per_k or set ec_compensation to linear",
        )
        .at(POINTER)),
    }
}
