//! Amounts of an entry that need the site or several flags.

use super::place::Context;
use crate::args::JournalAir;
use crate::error::argument;
use crate::quantity;
use guardcell::Error;
use guardcell::ledger::Conditions;

/// mL; `1/2 mister` counts in misters of the site.
pub(crate) fn volume(flag: &str, text: &str, context: &Context) -> Result<f64, Error> {
    let lower = text.trim().to_lowercase();
    if let Some(share) = lower.strip_suffix("misters").or_else(|| lower.strip_suffix("mister")) {
        let Some(full) = context.site.as_ref().and_then(|s| s.grower.mister_ml) else {
            return Err(argument(
                flag,
                "it is given in misters, and what a mister holds is not known",
                "give a site file with mister_ml under [grower], or the volume in mL",
            ));
        };
        let share = share.trim();
        let number = match share.split_once('/') {
            _ if share.is_empty() => Some(1.0),
            Some((a, b)) => match (a.trim().parse::<f64>(), b.trim().parse::<f64>()) {
                (Ok(a), Ok(b)) if b > 0.0 => Some(a / b),
                _ => None,
            },
            None => share.parse::<f64>().ok(),
        };
        return match number {
            Some(n) if n.is_finite() && n >= 0.0 => Ok(n * full),
            _ => Err(argument(
                flag,
                format!("{text:?} is not a number of misters"),
                "write it like 1/2 mister, 0.75 mister or 2 misters",
            )),
        };
    }
    quantity::millilitres(flag, text)
}

/// The air of the day; none where nothing is said of it.
pub(crate) fn conditions(air: &JournalAir) -> Result<Option<Conditions>, Error> {
    let mut c = Conditions::default();
    if let Some(t) = &air.temp {
        c.temp_c = Some(quantity::celsius("--temp", t)?);
    }
    if let Some(t) = &air.humidity {
        c.rh_percent = Some(quantity::humidity("--humidity", t)?);
    }
    if let Some(t) = &air.air {
        c.air_m_s = Some(quantity::air("--air", t)?);
    }
    for (flag, text, field) in [
        ("--modelled", &air.modelled, &mut c.residue_g_m2),
        ("--modelled-scale", &air.modelled_scale, &mut c.scale_g_m2),
    ] {
        if let Some(t) = text {
            *field = Some(quantity::grams_per_square_metre(flag, t)?);
        }
    }
    Ok((c != Conditions::default()).then_some(c))
}
