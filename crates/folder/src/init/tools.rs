//! What the grower works with: mister, scale, hours.

use crate::fault::answer;
use crate::time::hour;
use guardcell::Error;
use guardcell::units::uom::si::{mass::gram, volume::milliliter};
use guardcell::units::{parse_mass, parse_volume, with_unit};

/// Mister, scale and hours; what was not said is not known.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tools {
    /// What a full mister holds, mL.
    pub mister_ml: Option<f64>,
    /// The smallest mass that the scale shows, g.
    pub scale_g: Option<f64>,
    /// When the grower can be there, `HH:MM`.
    pub hours: Vec<(String, String)>,
}

/// Reads `mister 1 L, scale 0.1 g, 6:00-9:00, 18:00-21:00`, each part or none.
///
/// # Errors
///
/// A part of another kind.
///
/// ```
/// let tools = guardcell_folder::init::tools("mister 750 mL, scale 0.1, 6-9, 18-22")?;
/// assert_eq!((tools.mister_ml, tools.scale_g, tools.hours.len()), (Some(750.0), Some(0.1), 2));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn tools(text: &str) -> Result<Tools, Error> {
    let wrong = |part: &str| {
        answer(
            "--tools",
            format!("{part:?} does not give a mister, a scale or hours"),
            "write it like \"mister 1 L, scale 0.1 g, 6:00-9:00, 18:00-21:00\"",
        )
    };
    let mut out = Tools::default();
    for part in text.split([',', ';']).map(str::trim).filter(|p| !p.is_empty()) {
        let lower = part.to_lowercase();
        if let Some(value) = lower.strip_prefix("mister") {
            let volume = parse_volume(&measured(value, "L")).map_err(|_| wrong(part))?;
            out.mister_ml = Some(volume.get::<milliliter>());
        } else if let Some(value) = lower.strip_prefix("scale") {
            let mass = parse_mass(&measured(value, "g")).map_err(|_| wrong(part))?;
            out.scale_g = Some(mass.get::<gram>());
        } else {
            let (from, to) = lower.split_once(['-', '–']).ok_or_else(|| wrong(part))?;
            let pair = hour(from).zip(hour(to)).ok_or_else(|| wrong(part))?;
            out.hours.push(pair);
        }
    }
    Ok(out)
}

/// A volume or a mass as people write it: a plain number in this unit, small letters allowed.
fn measured(value: &str, unit: &str) -> String {
    with_unit(&value.replace("ml", "mL").replace(" l", " L"), unit)
}

#[cfg(test)]
mod tests {
    use super::tools;

    #[test]
    fn what_is_no_tool() {
        assert_eq!(tools("").unwrap(), super::Tools::default());
        assert_eq!(tools("mister 2").unwrap().mister_ml, Some(2000.0));
        for wrong in ["bucket", "mister big", "6-25", "scale 0.1 L", "6:00"] {
            assert!(tools(wrong).is_err(), "{wrong}");
        }
    }
}
