//! Quantities of the flags, in the units of the wire.

use super::place::Context;
use crate::args::JournalAir;
use crate::error::argument;
use crate::verbs::air::option;
use guardcell::Error;
use guardcell::ledger::Conditions;
use guardcell::units::basis::N;
use guardcell::units::uom::si::{
    areal_mass_density::gram_per_square_meter, length::millimeter, mass::gram,
    mass_concentration::milligram_per_liter, ratio::percent,
    thermodynamic_temperature::degree_celsius, time::minute, velocity::meter_per_second,
    volume::milliliter,
};
use guardcell::units::{
    parse_air_speed, parse_areal_mass, parse_feed_strength, parse_humidity, parse_length,
    parse_mass, parse_of, parse_temperature, parse_time, parse_volume,
};

/// mg/L of dissolved feed.
pub(crate) fn strength(flag: &str, text: &str) -> Result<f64, Error> {
    let strength = option(flag, text, parse_feed_strength)?;
    Ok(tidy(strength.mass_concentration().get::<milligram_per_liter>()))
}

/// mg/L N.
pub(crate) fn nitrogen(text: &str) -> Result<f64, Error> {
    Ok(tidy(option("--n", text, parse_of::<N>)?.mg_per_l()))
}

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
            Some(n) if n.is_finite() && n >= 0.0 => Ok(tidy(n * full)),
            _ => Err(argument(
                flag,
                format!("{text:?} is no number of misters"),
                "write it like 1/2 mister, 0.75 mister or 2 misters",
            )),
        };
    }
    Ok(tidy(option(flag, text, parse_volume)?.get::<milliliter>()))
}

/// mm.
pub(crate) fn length_mm(flag: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(option(flag, text, parse_length)?.get::<millimeter>()))
}

/// g.
pub(crate) fn weight_g(flag: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(option(flag, text, parse_mass)?.get::<gram>()))
}

/// Minutes.
pub(crate) fn minutes(flag: &str, text: &str) -> Result<f64, Error> {
    Ok(tidy(option(flag, text, parse_time)?.get::<minute>()))
}

/// The air of the day; none where nothing is said of it.
pub(crate) fn conditions(air: &JournalAir) -> Result<Option<Conditions>, Error> {
    let mut c = Conditions::default();
    if let Some(t) = &air.temp {
        c.temp_c = Some(tidy(option("--temp", t, parse_temperature)?.get::<degree_celsius>()));
    }
    if let Some(t) = &air.humidity {
        c.rh_percent = Some(tidy(option("--humidity", t, parse_humidity)?.get::<percent>()));
    }
    if let Some(t) = &air.air {
        c.air_m_s = Some(tidy(option("--air", t, parse_air_speed)?.get::<meter_per_second>()));
    }
    for (flag, text, field) in [
        ("--modelled", &air.modelled, &mut c.residue_g_m2),
        ("--modelled-scale", &air.modelled_scale, &mut c.scale_g_m2),
    ] {
        if let Some(t) = text {
            let mass = option(flag, t, parse_areal_mass)?;
            *field = Some(tidy(mass.get::<gram_per_square_meter>()));
        }
    }
    Ok((c != Conditions::default()).then_some(c))
}

/// To nine significant digits: what the change of units adds beyond that is dust.
fn tidy(v: f64) -> f64 {
    format!("{v:.8e}").parse().unwrap_or(v)
}
