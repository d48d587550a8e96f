//! The quantities of one series, whatever their source.

use super::within::within;
use crate::error::in_map;
use crate::unit::{QuantityName, Scale};
use guardcell::Error;

/// One quantity of a series, ready to be read from `W`.
#[derive(Debug, Clone)]
pub(crate) struct Asked<W> {
    pub(crate) quantity: QuantityName,
    pub(crate) from: W,
    /// None where the unit is only known once the source is asked.
    pub(crate) scale: Option<Scale>,
    /// How far outside its range a value is still taken as the limit, in the unit of a reading.
    pub(crate) limit_within: f64,
}

/// What a map says of one quantity.
pub(crate) struct Stated<'a, W> {
    pub(crate) from: W,
    pub(crate) unit: Option<&'a str>,
    pub(crate) w_m2_per_unit: Option<f64>,
    pub(crate) limit_within: Option<f64>,
}

/// Checks the quantities of a series, in the order of [`QuantityName::ALL`].
pub(crate) fn asked<W>(stated: [Option<Stated<'_, W>>; 5]) -> Result<Vec<Asked<W>>, Error> {
    let mut out: Vec<Asked<W>> = Vec::new();
    for (quantity, stated) in QuantityName::ALL.into_iter().zip(stated) {
        let Some(stated) = stated else { continue };
        let scale = match (stated.unit, stated.w_m2_per_unit) {
            (Some(unit), factor) => Some(Scale::new(quantity, unit, factor)),
            (None, Some(factor)) => Some(Scale::new(quantity, "unit", Some(factor))),
            (None, None) => None,
        }
        .transpose()
        .map_err(|f| f.within(&format!("/{}", quantity.key())))?;
        within("limit_within", stated.limit_within, 0.0, 1000.0, "of its unit")
            .map_err(|f| f.within(&format!("/{}", quantity.key())))?;
        let limit_within = stated.limit_within.unwrap_or(0.0);
        out.push(Asked {
            quantity,
            from: stated.from,
            limit_within: scale.as_ref().map_or(limit_within, |s| s.difference(limit_within)),
            scale,
        });
    }
    let has = |q| out.iter().any(|a| a.quantity == q);
    if !has(QuantityName::Temperature) {
        return Err(in_map(
            "temperature",
            "it is missing",
            "a reading needs a temperature and a humidity: say where the temperature is",
        ));
    }
    match (has(QuantityName::Humidity), has(QuantityName::DewPoint)) {
        (false, false) => Err(in_map(
            "humidity",
            "it is missing",
            "a reading needs a humidity: say where `humidity` or `dew_point` is",
        )),
        (true, true) => Err(in_map(
            "dew_point",
            "the humidity is stated already",
            "keep `humidity` or `dew_point`, not both",
        )),
        _ => Ok(out),
    }
}
