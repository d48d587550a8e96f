//! What decides whether a strength may be used at all: one rule for the advice and for the chart.

use guardcell_reference::parameters::practice as p;

/// What kept a stronger dose from being advised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Constraint {
    /// The air is not humid enough for the strength of humid air.
    NotHumid,
    /// The air moves too much for it.
    AirMoves,
    /// The air speed is not known.
    AirSpeedUnknown,
    /// The air of the day is assumed, not read or forecast.
    AirAssumed,
    /// Visible residue would be too probable.
    Residue,
    /// Within the tolerance, but the risk costs more than the dose gains.
    Cost,
    /// The weekly ceiling of the pot.
    Weekly,
    /// The strength that the journal proposes.
    Learned,
    /// The drop at a root tip.
    RootTip,
}

/// The air in which a strength is held against the rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct AirFacts {
    pub(crate) rh_percent: f64,
    pub(crate) air_m_s: Option<f64>,
    /// Whether this air and that of the following day are read or forecast.
    pub(crate) known_day: bool,
}

/// Whether practice allows this strength in one pass of this air: above the strength of ordinary
/// air it wants humid air that hardly moves, and knows so.
pub(crate) fn in_air(mg_l: f64, air: AirFacts) -> Result<(), Constraint> {
    if mg_l <= p::STRENGTH_ESTABLISHED.mg_per_l() {
        return Ok(());
    }
    if !air.known_day {
        return Err(Constraint::AirAssumed);
    }
    if air.rh_percent < p::HUMID_SINGLE_PASS_RH.percent() {
        return Err(Constraint::NotHumid);
    }
    match air.air_m_s {
        None => Err(Constraint::AirSpeedUnknown),
        Some(v) if v > p::HUMID_SINGLE_PASS_AIR_MOST.m_per_s() => Err(Constraint::AirMoves),
        Some(_) => Ok(()),
    }
}

/// Whether a probability of visible residue is accepted.
pub(crate) fn accepts(residue_probability: f64, tolerance: f64) -> bool {
    residue_probability <= tolerance
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice, no source: above 300 mg/L only at 80 % or more and light air movement.
    #[test]
    fn the_strength_of_humid_air() {
        let air = |rh_percent, air_m_s, known_day| AirFacts { rh_percent, air_m_s, known_day };
        assert_eq!(in_air(600.0, air(80.0, Some(0.4), true)), Ok(()));
        assert_eq!(in_air(600.0, air(79.9, Some(0.4), true)), Err(Constraint::NotHumid));
        assert_eq!(in_air(600.0, air(90.0, Some(0.41), true)), Err(Constraint::AirMoves));
        assert_eq!(in_air(600.0, air(90.0, None, true)), Err(Constraint::AirSpeedUnknown));
        assert_eq!(in_air(600.0, air(90.0, Some(0.1), false)), Err(Constraint::AirAssumed));
        assert_eq!(in_air(301.0, air(70.0, Some(0.1), true)), Err(Constraint::NotHumid));
        assert_eq!(in_air(300.0, air(20.0, None, false)), Ok(()));
    }
}
