//! The errors of the library as problem details.

use crate::problem::{Kind, Problem};
use guardcell::clock::ClockError;
use guardcell::film::FilmError;
use guardcell::solution::{Code, Error};

/// An error of the library that can be told as a problem.
pub trait Fault: std::fmt::Display + Sized {
    /// The error with its place as a JSON Pointer, what is wrong and what would be right.
    fn into_problem(self) -> Problem;

    /// The problem with the message as the library words it, which a caller of the library and of
    /// the command line sees.
    fn refused(self) -> Problem {
        let message = self.to_string();
        self.into_problem().saying(message)
    }
}

impl Fault for FilmError {
    fn into_problem(self) -> Problem {
        told(&self.to_string(), "")
    }
}

impl Fault for ClockError {
    fn into_problem(self) -> Problem {
        let pointer = match &self {
            Self::Latitude(_) => "/latitude_deg",
            Self::Longitude(_) => "/longitude_deg",
            Self::Zone(_) => "/time_zone",
            Self::LampTimes(_) => "/lamps",
            Self::Year(_) => "/date",
            Self::AirOrder { index, .. } | Self::Air { index, .. } => {
                return told(&self.to_string(), &format!("/hours/{index}"));
            }
            _ => "",
        };
        told(&self.to_string(), pointer)
    }
}

impl Fault for Error {
    fn into_problem(self) -> Problem {
        let kind = if self.code() == Code::Internal { Kind::Internal } else { Kind::Impossible };
        let place = self.place().map_or(String::new(), |place| format!("{place}: "));
        Problem::new(kind, format!("{place}{}", self.detail()), self.hint()).at(self.pointer())
    }
}

/// The problem of a part seen from the whole.
pub(crate) fn under(prefix: &str, problem: Problem) -> Problem {
    let inner = problem.pointer.clone().unwrap_or_default();
    let pointer = if inner.starts_with(prefix) { inner } else { format!("{prefix}{inner}") };
    problem.at(pointer)
}

/// A problem from a message of the form `/pointer: what is wrong; what would be right`.
fn told(message: &str, pointer: &str) -> Problem {
    let (found, rest) = match message.split_once(": ") {
        Some((p, rest)) if p.starts_with('/') && !p.contains(' ') => (p, rest),
        _ => ("", message),
    };
    let (wrong, right) = rest.split_once("; ").unwrap_or((rest, "see the schema of the request"));
    let pointer = if found.is_empty() { pointer } else { found };
    Problem::new(Kind::Impossible, wrong, right).at(pointer)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_is_taken_apart() {
        let p = told("/readings/3/rh_percent: is 140; it should be 0 to 100", "");
        assert_eq!(p.pointer.as_deref(), Some("/readings/3/rh_percent"));
        assert_eq!(p.field.as_deref(), Some("rh_percent"));
        assert_eq!((p.wrong.as_str(), p.right.as_str()), ("is 140", "it should be 0 to 100"));
        assert_eq!(p.detail, "/readings/3/rh_percent: is 140; it should be 0 to 100");
    }

    #[test]
    fn the_fault_of_a_part_is_placed_in_the_whole() {
        let p = under("/feed", told("n_percent is 120; at most 100", "/guaranteed/n_percent"));
        assert_eq!(p.pointer.as_deref(), Some("/feed/guaranteed/n_percent"));
    }
}
