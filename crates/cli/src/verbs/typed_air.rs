//! The air as it is now, typed at the command line.

use crate::args::TypedAir;
use crate::quantity;
use guardcell::Error;
use guardcell::advice::Reading;

/// The one reading for every area at this moment; none where none is typed.
pub(crate) fn reading(typed: &TypedAir, time: String) -> Result<Option<Reading>, Error> {
    let (Some(temp), Some(humidity)) = (&typed.temp, &typed.humidity) else { return Ok(None) };
    let air_m_s = typed.air.as_deref().map(|t| quantity::air("--air", t)).transpose()?;
    let temp_c = quantity::celsius("--temp", temp)?;
    let rh_percent = quantity::humidity("--humidity", humidity)?;
    Ok(Some(Reading::new(time, temp_c, rh_percent).with_air_m_s(air_m_s)))
}
