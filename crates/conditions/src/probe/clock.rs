//! What is said of the times of a file, whatever its kind.

use crate::probe::answer::{FindingCode, Findings, Standing};
use crate::probe::stamp::{Form, Why};

/// The keys `format` and `zone` of a map.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Keys {
    /// None for RFC 3339.
    pub(super) format: Option<String>,
    pub(super) zone: Option<String>,
}

/// Says how a form was decided; none where it is open.
pub(super) fn keys(
    form: Form,
    column: &str,
    utc: bool,
    zone: Option<&str>,
    findings: &mut Findings,
) -> Option<Keys> {
    let (format, local, why) = match form {
        Form::Known { format, local, why } => (format, local, why),
        Form::Undecided { example } => {
            let message = format!(
                "{example:?} can have the day or the month first, and no time of the file decides \
                 it: state which"
            );
            findings.add(FindingCode::DateOrder, Standing::Open, Some(column), message);
            return None;
        }
        Form::Unknown => {
            let message = "its times are of no known form: write a map by hand with their `format`";
            findings.add(FindingCode::Time, Standing::Open, Some(column), message);
            return None;
        }
    };
    let words = format.as_deref().unwrap_or("rfc3339");
    let (standing, reason) = match why {
        Why::Only => (Standing::Decided, String::new()),
        Why::Value(time) => (Standing::Decided, format!(": {time:?} fits no other order")),
        Why::Course => {
            (Standing::Decided, ": in the other order its times would leap by a month".into())
        }
        Why::Points => (Standing::Assumed, ": dates with points have the day first".into()),
        Why::Stated => (Standing::Assumed, ": as stated; no time of the file decides it".into()),
    };
    let code = if reason.is_empty() { FindingCode::Time } else { FindingCode::DateOrder };
    findings.add(code, standing, Some(column), format!("times are written {words}{reason}"));
    if !local {
        return Some(Keys { format, zone: zone.map(str::to_owned) });
    }
    if utc {
        let message = "its name says that times are UTC";
        findings.add(FindingCode::Zone, Standing::Decided, Some(column), message);
        return Some(Keys { format, zone: Some("UTC".into()) });
    }
    match zone {
        Some(zone) => {
            let message = format!(
                "times have no offset; they were taken as those of a clock of {zone} that is put \
                 forward and back with it (a logger that is not needs an offset such as -01:00)"
            );
            findings.add(FindingCode::Zone, Standing::Assumed, Some(column), message);
            Some(Keys { format, zone: Some(zone.to_owned()) })
        }
        None => {
            let message = "times have no offset, and no time zone is known: state it";
            findings.add(FindingCode::Zone, Standing::Open, Some(column), message);
            None
        }
    }
}
