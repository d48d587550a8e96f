//! Errors of the program: where they lie on a command line or in a file, and the exit code of each.

use guardcell::{Code, Error};
use std::fmt::Display;
use std::path::Path;

/// Two arguments that do not go together, or one that cannot be used.
pub(crate) fn argument(
    name: impl Into<String>,
    detail: impl Into<String>,
    hint: impl Into<String>,
) -> Error {
    Error::new(Code::Usage, detail, hint).of_argument(name)
}

/// A file with the wrong content.
pub(crate) fn bad_file(
    path: impl Display,
    detail: impl Into<String>,
    hint: impl Into<String>,
) -> Error {
    Error::new(Code::MalformedFile, detail, hint).in_file(path.to_string())
}

/// A file or device that the operating system refuses to read or write.
pub(crate) fn io(path: &Path, source: std::io::Error) -> Error {
    Error::new(Code::Io, source.to_string(), "")
        .in_file(path.display().to_string())
        .caused_by(source)
}

/// Standard output is closed or full.
pub(crate) fn output(source: std::io::Error) -> Error {
    Error::new(Code::Io, source.to_string(), "").in_file("standard output").caused_by(source)
}

/// Puts a pointer of the library into a file or an argument that the person gave.
pub(crate) trait Located {
    /// The same error, in the file with this name.
    fn in_path(self, path: &Path) -> Self;
}

impl Located for Error {
    fn in_path(self, path: &Path) -> Self {
        // What a server or the system refuses is not the fault of the file.
        if exit_code(&self) == 3 { self } else { self.in_file(path.display().to_string()) }
    }
}

/// 2 for bad input, 3 for reading, writing or a server that failed.
pub(crate) fn exit_code(error: &Error) -> u8 {
    match error.code() {
        Code::Io
        | Code::Storage
        | Code::Network
        | Code::Remote
        | Code::Busy
        | Code::Timeout
        | Code::Internal => 3,
        _ => 2,
    }
}

/// Whether the reader of standard output went away, as `head` does.
pub(crate) fn is_closed_pipe(error: &Error) -> bool {
    error.place().and_then(|place| place.file.as_deref()) == Some("standard output")
        && std::error::Error::source(error)
            .and_then(|source| source.downcast_ref::<std::io::Error>())
            .is_some_and(|source| source.kind() == std::io::ErrorKind::BrokenPipe)
}

/// The error for a terminal: one line for what is wrong, one for what would be right. Control
/// characters of foreign text are escaped.
pub(crate) fn for_terminal(error: &Error) -> String {
    let mut text = String::from("error: ");
    let field = error.field();
    match (error.place(), &field) {
        (Some(place), Some(field)) => text.push_str(&format!("{place}: {field}: ")),
        (Some(place), None) => text.push_str(&format!("{place}: ")),
        (None, _) if !error.pointer().is_empty() => {
            text.push_str(&format!("{}: ", error.pointer()));
        }
        (None, _) => {}
    }
    text.push_str(error.detail());
    let mut lines = vec![guardcell::escape_control(&text).into_owned()];
    if !error.hint().is_empty() {
        lines.push(format!("hint: {}", guardcell::escape_control(error.hint())));
    }
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_terminal_gets_place_field_and_hint() {
        let error = Error::new(Code::OutOfRange, "140 % is out of range", "give 0 to 100 %")
            .at("/readings/3/rh_percent")
            .in_file("conditions.csv")
            .on_line(5);
        assert_eq!(
            for_terminal(&error),
            "error: conditions.csv:5: rh_percent: 140 % is out of range\nhint: give 0 to 100 %"
        );
    }

    #[test]
    fn a_terminal_is_not_steered() {
        let error = argument("--plant", "no plant has the id \u{1b}[2J", "name one");
        assert!(!for_terminal(&error).contains('\u{1b}'));
    }

    #[test]
    fn only_a_closed_output_is_quiet() {
        let broken = || std::io::Error::from(std::io::ErrorKind::BrokenPipe);
        assert!(is_closed_pipe(&output(broken())));
        assert!(!is_closed_pipe(&io(Path::new("x.csv"), broken())));
        assert_eq!(exit_code(&output(broken())), 3);
        assert_eq!(exit_code(&argument("--at", "", "")), 2);
    }
}
