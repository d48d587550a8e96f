//! The water: rain, or a conductivity and a hardness. A report as a file is taken as it is.

use crate::fault::answer;
use guardcell::Error;
use guardcell::units::with_unit;

/// A water report (TOML) with the name of its file, from `rain`, or `EC 0.5, hardness 12 dH` with
/// either of the two. A bare EC is in mS/cm, a bare hardness in °dH.
///
/// # Errors
///
/// Other words, or a quantity that the water report does not take.
///
/// ```
/// let (file, text) = guardcell_folder::init::water("EC 0.5, hardness 200 ppm")?;
/// let report = guardcell_folder::water(&file, &text)?;
/// assert_eq!(report.ec.as_deref(), Some("0.5 mS/cm"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn water(text: &str) -> Result<(String, String), Error> {
    let wrong = |detail: String| {
        answer(
            "--water",
            detail,
            "write rain, or \"EC 0.5 mS/cm, hardness 12 °dH\", or name the file of a report",
        )
    };
    let lower = text.trim().to_lowercase();
    if ["rain", "ro", "osmosis", "distilled"].contains(&lower.as_str()) {
        let text = "# Rain or osmosis water: next to nothing is dissolved in it. The figure is common practice, no\n\
                    # source; measure yours and write what the meter shows.\n\
                    name = \"rain\"\n\
                    ec = \"20 µS/cm\"\n";
        return Ok(("rain.toml".to_owned(), text.to_owned()));
    }
    let (mut ec, mut hardness) = (None, None);
    for part in lower.split([',', ';']).map(str::trim).filter(|p| !p.is_empty()) {
        for piece in pieces(part) {
            if let Some(value) = piece.strip_prefix("ec") {
                ec = Some(measured(value, "mS/cm"));
            } else if let Some(value) = piece.strip_prefix("hardness") {
                hardness = Some(measured(value, "°dH"));
            } else {
                return Err(wrong(format!("{piece:?} is not known of a water")));
            }
        }
    }
    if ec.is_none() && hardness.is_none() {
        return Err(wrong(format!("{text:?} says nothing of a water")));
    }
    let mut out = String::from(
        "# The water that feeds are mixed with. What is missing is completed and marked; a report of the\n\
         # supplier says more (ca_mg_l, alkalinity, na_mg_l, cl_mg_l, so4_mg_l, no3_mg_l).\n\
         name = \"tap\"\n",
    );
    for (key, value) in [("ec", ec), ("hardness", hardness)] {
        if let Some(value) = value {
            out.push_str(&format!("{key} = {}\n", toml::Value::String(value)));
        }
    }
    // What the report itself refuses is refused now, and not when it is first used.
    let report = crate::water::water("tap.toml", &out)?;
    guardcell::solution::Water::from_report(&report)
        .map_err(|e| wrong(format!("{text:?}: {}", e.detail())))?;
    Ok(("tap.toml".to_owned(), out))
}

/// `ec 0.5 hardness 12` without a comma is two pieces.
fn pieces(part: &str) -> Vec<String> {
    match part.find("hardness").filter(|at| *at > 0) {
        Some(at) => {
            let (a, b) = part.split_at(at);
            vec![a.trim().to_owned(), b.to_owned()]
        }
        None => vec![part.to_owned()],
    }
}

/// A quantity with the unit that a bare number has; `dh` and `ppm` as hardness is written.
fn measured(value: &str, unit: &str) -> String {
    let value = value.trim().trim_start_matches(['=', ':']).trim();
    let spelt = with_unit(value, unit);
    if spelt != value {
        return spelt;
    }
    if let Some(number) = value.strip_suffix("ppm").or_else(|| value.strip_suffix("mg/l")) {
        return format!("{} mg/L CaCO3", number.trim());
    }
    value
        .replace("°dh", "°dH")
        .replace(" dh", " °dH")
        .replace("ms/cm", "mS/cm")
        .replace("us/cm", "µS/cm")
        .replace("µs/cm", "µS/cm")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn waters_as_people_write_them() {
        for (text, ec, hardness) in [
            ("EC 0.5, hardness 12", Some("0.5 mS/cm"), Some("12 °dH")),
            ("ec 500 µS/cm hardness 12 dH", Some("500 µS/cm"), Some("12 °dH")),
            ("hardness 200 ppm", None, Some("200 mg/L CaCO3")),
            ("EC 0.35 mS/cm", Some("0.35 mS/cm"), None),
        ] {
            let (file, toml) = water(text).unwrap();
            let report = crate::water::water(&file, &toml).unwrap();
            assert_eq!(
                (report.ec.as_deref(), report.hardness.as_deref()),
                (ec, hardness),
                "{text}"
            );
        }
        let (file, toml) = water("Rain").unwrap();
        assert_eq!(file, "rain.toml");
        assert!(
            guardcell::solution::Water::from_report(&crate::water::water(&file, &toml).unwrap())
                .is_ok()
        );
        for wrong in ["", "wet", "EC", "EC much", "hardness -3", "ph 7"] {
            assert!(water(wrong).is_err(), "{wrong}");
        }
    }
}
