//! Uptake through the cuticle: first order, slow, only while dissolved.
//!
//! M = M0 (1 − e^(−kt)), k = 0 for what is solid. The rates come from isolated cuticles and crops;
//! no orchid is among them. Uptake goes on with stomata shut. That an open stoma helps is inferred
//! from gas exchange and pore size; no work is known that measured it by day against night in a
//! CAM orchid, so no gain is put on it here.

use guardcell_reference::parameters::uptake as data;
use guardcell_units::quantity::{Ratio, Time};
use guardcell_units::uom::si::{ratio::ratio, time::hour};

/// What is taken up, for the two kinds whose rates differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entering {
    /// Ions.
    Salts,
    /// Urea, which carries no charge and enters faster.
    Urea,
}

/// First-order rate in 1/h at a relative humidity (0–1).
pub(crate) fn rate_per_hour(what: Entering, humidity: f64, wetting_agent: bool) -> f64 {
    let base = match what {
        Entering::Salts if wetting_agent => {
            data::SALT_RATE.per_hour() * data::WETTING_AGENT_FACTOR.number()
        }
        Entering::Salts => data::SALT_RATE.per_hour(),
        Entering::Urea => data::UREA_RATE.per_hour(),
    };
    let (low, high) = (data::RATE_HUMIDITY_LOW.percent(), data::RATE_HUMIDITY_REFERENCE.percent());
    let steps = (humidity * 100.0 - high) / (high - low);
    base * data::RATE_HUMIDITY_GAIN.number().powf(steps)
}

/// The share of something dissolved on the leaf that enters in a time, at a relative humidity.
///
/// Uncertain by a factor of about 3 either way: plants differ six-fold (Schreiber & Schönherr 2009).
///
/// ```
/// # mod guardcell {
/// #     pub mod film { pub use guardcell_film::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::film::uptake::{Entering, share_taken_up};
/// use guardcell::units::{quantity::{Ratio, Time}, uom::si::{ratio::percent, time::hour}};
/// let humid = Ratio::new::<percent>(90.0);
/// // Calcium chloride with a wetting agent: half in 8 to 50 h (Schönherr 2000).
/// let half = |h| share_taken_up(Entering::Salts, Time::new::<hour>(h), humid, true).get::<percent>();
/// assert!(half(8.3) < 50.0 && half(49.5) > 50.0);
/// ```
#[must_use]
pub fn share_taken_up(
    what: Entering,
    dissolved_for: Time,
    humidity: Ratio,
    wetting_agent: bool,
) -> Ratio {
    let k = rate_per_hour(what, humidity.get::<ratio>(), wetting_agent);
    Ratio::new::<ratio>(-(-k * dissolved_for.get::<hour>().max(0.0)).exp_m1())
}

#[cfg(test)]
mod tests {
    use super::*;

    // Schönherr 2000 (abstract): the rate doubles from 50 to 90 % and is 10–12 times higher with
    // a wetting agent.
    #[test]
    fn humidity_and_wetting_agent() {
        let k = |rh, agent| rate_per_hour(Entering::Salts, rh, agent);
        assert!((k(0.9, false) / k(0.5, false) - 2.0).abs() < 1e-9);
        assert!((10.0..=12.0).contains(&(k(0.9, true) / k(0.9, false))));
    }
}
