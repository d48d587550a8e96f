//! Parts of the day or night against the part in which the widest opening was measured.

use crate::code::Code;
use guardcell_reference::PeakTime;
use guardcell_reference::parameters::clock as p;

/// The factor on the probability of a part, and its code.
pub(crate) fn factor(peak: Option<PeakTime>, part: Option<PeakTime>) -> (f64, u64) {
    match (peak, part) {
        (None, _) | (_, None) => (1.0, 0),
        (Some(a), Some(b)) if a == b => (1.0, Code::MeasuredPeak.bit()),
        _ => (p::OFF_PEAK_FACTOR.number(), Code::OffPeak.bit()),
    }
}
