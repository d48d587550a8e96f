//! What to weigh, draw and mix, in the words that the sheet and the day share.

use crate::print::text;
use guardcell::advice::round::{Bucket, Stock};
use guardcell::solution::Bounds;

/// `2 g of Fernhollow Mist`, `4 mL of it` for a liquid, or the product alone.
pub(crate) fn amount(mass_g: Option<f64>, volume_ml: Option<f64>, product: &str) -> String {
    match (mass_g, volume_ml) {
        (Some(g), _) => format!("{} g of {product}", text::significant(g, 4)),
        (None, Some(ml)) => format!("{} mL of {product}", text::significant(ml, 3)),
        (None, None) => product.to_owned(),
    }
}

/// `2 g of Fernhollow Mist made up to 200 mL with water`.
pub(crate) fn stock(s: &Stock, product: &str) -> String {
    let amount = amount(s.mass_g, s.volume_ml, product);
    format!("{amount} made up to {} with water", text::ml(s.made_up_to_ml))
}

/// `63 mL`.
pub(crate) fn drawn(s: &Stock) -> String {
    format!("{} mL", text::significant(s.take_ml, 4))
}

/// What goes in beside the product, one line each: `with 0.9 mL of Fernhollow Drop`.
pub(crate) fn beside(b: &Bucket) -> impl Iterator<Item = String> + '_ {
    b.with.iter().map(|s| match &s.stock {
        Some(made) => {
            let of = if made.mass_g.is_some() { "g" } else { "mL" };
            let own = text::significant(made.mass_g.or(made.volume_ml).unwrap_or(0.0), 4);
            let up_to = text::ml(made.made_up_to_ml);
            let drawn = drawn(made);
            format!("with {drawn} of a stock of {} ({own} {of} made up to {up_to})", s.product)
        }
        None => format!("with {}", amount(s.mass_g, s.volume_ml, &s.product)),
    })
}

/// How far the strength may be off, with a blank before it: ` (±3 %)`.
pub(crate) fn error(b: &Bucket) -> String {
    b.weighing_error_percent.map_or(String::new(), |e| format!(" (±{e:.0} %)"))
}

/// `70 mL`, `2.1 L`.
pub(crate) fn water(b: &Bucket) -> String {
    if b.water_l < 1.0 {
        text::ml(b.water_l * 1000.0)
    } else {
        format!("{} L", text::significant(b.water_l, 3))
    }
}

/// `45 ppm N`.
pub(crate) fn nitrogen(b: &Bucket) -> String {
    format!("{} ppm N", text::significant(b.n_mg_l, 2))
}

/// What a meter reads: `0.45 mS/cm (0.44–0.46)`.
pub(crate) fn meter(b: &Bounds) -> String {
    match b.value {
        Some(v) if (b.high - b.low).abs() > 0.02 * v => {
            format!("{} ({:.2}–{:.2})", text::ms_cm(v), b.low / 1000.0, b.high / 1000.0)
        }
        Some(v) => text::ms_cm(v),
        None => format!("{:.2}–{:.2} mS/cm", b.low / 1000.0, b.high / 1000.0),
    }
}
