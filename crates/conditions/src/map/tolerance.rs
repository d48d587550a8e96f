//! How far apart in time values of different series may be to make one reading.

use guardcell::reference::parameters::practice;

/// The tolerance where a map states none, in seconds.
pub(crate) fn default_s() -> f64 {
    practice::READING_JOIN_TOLERANCE.minutes() * 60.0
}

/// The widest tolerance, in seconds.
pub(crate) const TOLERANCE_S_MOST: f64 = 3600.0;
