//! What comes down in a stock at its coldest.

use crate::conduct::precipitates;
use crate::notice::{Bounds, Notice, NoticeCode};
use crate::pitzer::{Brine, Saturation};
use guardcell_reference::Composition;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{ThermodynamicTemperature, in_celsius};
use serde::{Deserialize, Serialize};

/// A solid that the ions of a stock can form, also one that no product holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TankSolid {
    /// The solid, such as `potassium sulfate`.
    pub name: String,
    /// Its formula.
    pub formula: String,
    /// log10 of the ion activity product over the constant at the coldest temperature: above 0 it
    /// comes down. The ends differ where the model has only bounds.
    pub saturation_index: Bounds,
}

/// What is known of the solids of one stock.
pub(super) struct Judged {
    /// The solids nearest to saturation first; none where the stock cannot be judged.
    pub(super) solids: Option<Vec<TankSolid>>,
    /// The share of the strength at which the stock stays clear, percent, where it can be judged.
    pub(super) clear_percent: Option<f64>,
    pub(super) warnings: Vec<Notice>,
}

/// Judges a stock by the model of concentrated solutions; the phosphates of calcium and magnesium,
/// which it does not have, by the model of dilute ones.
pub(super) fn judge(
    stock: &Composition,
    temperature: ThermodynamicTemperature,
    tank: &str,
) -> Judged {
    let mut warnings = sparing(stock, temperature, tank);
    let brine = match Brine::from_composition(stock, temperature) {
        Ok(brine) => brine,
        Err(e) => {
            warnings.push(Notice::new(
                NoticeCode::AboveValidity,
                format!(
                    "Tank {tank}: whether its salts come down in the cold is not judged, because \
                     {}. Keep to the stock strength on the labels and watch for crystals.",
                    e.detail()
                ),
            ));
            return Judged { solids: None, clear_percent: None, warnings };
        }
    };
    let mut list = brine.saturations();
    list.sort_by(|a, b| b.high.total_cmp(&a.high));
    let clear_percent = 100.0 * brine.clear_share();
    let near = -parameter::STOCK_DOUBT.number();
    for s in list.iter().filter(|s| s.high > near).take(3) {
        warnings.push(warning(s, tank, temperature, clear_percent));
    }
    let solids = list
        .into_iter()
        .map(|s| TankSolid {
            name: s.name.to_owned(),
            formula: s.formula.to_owned(),
            saturation_index: Bounds {
                low: s.low,
                value: (s.high - s.low < 1e-9).then_some(s.high),
                high: s.high,
            },
        })
        .collect();
    Judged { solids: Some(solids), clear_percent: Some(clear_percent), warnings }
}

fn warning(
    s: &Saturation,
    tank: &str,
    temperature: ThermodynamicTemperature,
    clear_percent: f64,
) -> Notice {
    let (code, verdict) = if s.low > 0.0 {
        (NoticeCode::Precipitation, "comes down")
    } else if s.high > 0.0 {
        (NoticeCode::CanPrecipitate, "can come down")
    } else {
        (NoticeCode::CanPrecipitate, "is close to coming down")
    };
    let strength = if s.high > 0.0 {
        format!(" It stays clear up to {clear_percent:.0} % of this strength.")
    } else {
        String::new()
    };
    Notice::new(
        code,
        format!(
            "Tank {tank}: {} ({}) {verdict} at {:.0} °C (saturation index {:.2}).{strength} Use a \
             lower injector ratio, divide the products otherwise, or keep it warmer.",
            s.name,
            s.formula,
            in_celsius(temperature),
            s.high
        ),
    )
    .with_sources(s.sources)
}

/// Solids that the model of concentrated solutions does not have.
fn sparing(stock: &Composition, temperature: ThermodynamicTemperature, tank: &str) -> Vec<Notice> {
    match precipitates(stock, temperature) {
        Ok(list) => list
            .into_iter()
            .filter(|n| n.code == NoticeCode::Precipitation && !n.message.contains("gypsum"))
            .map(|mut n| {
                n.message = format!("Tank {tank}: {}", n.message);
                n
            })
            .collect(),
        Err(_) => Vec::new(), // the model of concentrated solutions says why
    }
}
