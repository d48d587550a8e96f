//! Lamps on the wire: runs at clock times, or a cycle.

use crate::lamps::Lamps;
use guardcell_call::{Bound, Bounded, bounds};
use guardcell_error::{Code, Error, excerpt};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::Time as Duration;
use guardcell_units::uom::si::time::hour;
use jiff::Timestamp;
use jiff::civil::Time;
use serde::{Deserialize, Serialize};

/// One run of the lamps each day; `off` earlier than `on` runs over midnight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LampRun {
    /// When the lamps go on, local time, `HH:MM`.
    #[cfg_attr(feature = "schema", schemars(regex(pattern = r"^([01][0-9]|2[0-3]):[0-5][0-9]$")))]
    pub on: String,
    /// When they go off, local time, `HH:MM`; `24:00` is the end of the day.
    #[cfg_attr(
        feature = "schema",
        schemars(regex(pattern = r"^(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$"))
    )]
    pub off: String,
}

/// Lamps that are on and off in turn, whatever the clock says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct LampCycle {
    /// When one of the light periods begins, RFC 3339 with offset.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub start: String,
    /// Length of the light in hours.
    pub light_h: f64,
    /// Length of the dark in hours.
    pub dark_h: f64,
}

bounds! { LampCycle {
    start: Bound::text(1, 64),
    light_h: Bound::number(p::CYCLE_SHORTEST.hours(), p::CYCLE_LONGEST.hours(), "h"),
    dark_h: Bound::number(p::CYCLE_SHORTEST.hours(), p::CYCLE_LONGEST.hours(), "h"),
} }

/// A local clock time from `HH:MM`.
fn clock_time(text: &str, pointer: &str) -> Result<Time, Error> {
    let wrong = || {
        Error::new(
            Code::InvalidText,
            format!("{:?} is not a time of day", excerpt(text, 60)),
            "give a time such as 06:30",
        )
        .at(pointer)
    };
    if !text.contains(':') {
        return Err(wrong());
    }
    text.trim().parse().map_err(|_| wrong())
}

/// Lamps from their runs or their cycle on the wire; `None` if neither is given.
///
/// A single run with the same time twice, and one from `00:00` to `24:00`, is always on.
///
/// # Errors
/// At `/lamps/…` or `/lamp_cycle/…`: [`Code::InvalidText`] for a text that is not a time,
/// [`Code::OutOfRange`] for a length of the cycle, [`Code::Conflict`] for runs and a cycle together
/// or for several runs of which one has the same time twice.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
/// use guardcell::clock::{LampRun, lamps};
/// let run = LampRun { on: "06:00".into(), off: "24:00".into() };
/// assert!(lamps(&[run], None)?.is_some());
/// assert!(lamps(&[], None)?.is_none());
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn lamps(runs: &[LampRun], cycle: Option<&LampCycle>) -> Result<Option<Lamps>, Error> {
    if let Some(cycle) = cycle {
        if !runs.is_empty() {
            return Err(Error::new(
                Code::Conflict,
                "both lamp hours and a lamp cycle are given",
                "give lamps or lamp_cycle, not both",
            )
            .at("/lamp_cycle"));
        }
        return from_cycle(cycle).map(Some).map_err(|e| e.within("/lamp_cycle"));
    }
    let mut out: Option<Lamps> = None;
    for (i, run) in runs.iter().enumerate() {
        let on = clock_time(&run.on, &format!("/lamps/{i}/on"))?;
        let end_of_day = run.off.trim() == "24:00";
        let off = if end_of_day {
            Time::midnight()
        } else {
            clock_time(&run.off, &format!("/lamps/{i}/off"))?
        };
        let always = runs.len() == 1 && on == off;
        let joined = match out {
            _ if always => Ok(Lamps::always()),
            None => Lamps::between(on, off),
            Some(lamps) => lamps.and_between(on, off),
        };
        out = Some(joined.map_err(|e| e.at(format!("/lamps/{i}/off")))?);
    }
    Ok(out)
}

fn from_cycle(cycle: &LampCycle) -> Result<Lamps, Error> {
    cycle.check_bounds()?;
    let start: Timestamp = cycle.start.trim().parse().map_err(|_| {
        Error::new(
            Code::InvalidText,
            format!("{:?} is not a time with an offset", excerpt(&cycle.start, 60)),
            "give a time such as 2026-06-21T05:00:00+01:00",
        )
        .at("/start")
    })?;
    let h = Duration::new::<hour>;
    Lamps::cycle(start, h(cycle.light_h), h(cycle.dark_h))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(on: &str, off: &str) -> LampRun {
        LampRun { on: on.into(), off: off.into() }
    }

    #[test]
    fn the_end_of_the_day_can_be_entered() {
        assert_eq!(lamps(&[run("00:00", "24:00")], None).expect("valid"), Some(Lamps::always()));
        let till_midnight = lamps(&[run("06:00", "24:00")], None).expect("valid");
        assert_eq!(till_midnight, lamps(&[run("06:00", "00:00")], None).expect("valid"));
    }

    #[test]
    fn faults_are_placed() {
        let refused = |runs: &[LampRun]| lamps(runs, None).expect_err("refused");
        assert_eq!(
            refused(&[run("06:00", "18:00"), run("24:00", "20:00")]).pointer(),
            "/lamps/1/on"
        );
        assert_eq!(refused(&[run("06:00", "25:00")]).pointer(), "/lamps/0/off");
        assert_eq!(refused(&[run("6", "20:00")]).pointer(), "/lamps/0/on");
        let twice = refused(&[run("06:00", "18:00"), run("20:00", "20:00")]);
        assert_eq!((twice.code(), twice.pointer()), (Code::Conflict, "/lamps/1/off"));
    }

    #[test]
    fn a_cycle_is_checked() {
        let cycle =
            |light_h, dark_h, start: &str| LampCycle { start: start.into(), light_h, dark_h };
        let start = "2026-03-01T06:00:00Z";
        assert!(lamps(&[], Some(&cycle(8.0, 8.0, start))).expect("valid").is_some());
        let refused =
            |c: &LampCycle| lamps(&[], Some(c)).expect_err("refused").pointer().to_owned();
        assert_eq!(refused(&cycle(0.0, 8.0, start)), "/lamp_cycle/light_h");
        assert_eq!(refused(&cycle(8.0, f64::NAN, start)), "/lamp_cycle/dark_h");
        assert_eq!(refused(&cycle(8.0, 8.0, "06:00")), "/lamp_cycle/start");
        let both = lamps(&[run("06:00", "18:00")], Some(&cycle(8.0, 8.0, start)));
        assert_eq!(both.expect_err("refused").code(), Code::Conflict);
    }
}
