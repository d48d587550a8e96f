//! What can go wrong in the program, and the exit code of each.

use std::path::PathBuf;
use thiserror::Error;

/// An error of the program.
#[derive(Debug, Error)]
pub(crate) enum CliError {
    /// A file cannot be read or written.
    #[error("{}: {what}", path.display())]
    Io { path: PathBuf, what: std::io::Error },
    /// What a file or an argument holds is not right: where, what is wrong, what would be right.
    #[error("{place}: {wrong}; {right}")]
    Input { place: String, wrong: String, right: String },
    /// A part of the library refuses the request; its message says where and why.
    #[error("{0}")]
    Refused(String),
    /// The journal cannot be read or written.
    #[error("{0}")]
    Storage(String),
    /// The server did not start.
    #[error("{0}")]
    Serving(String),
    /// The server that was named cannot be asked.
    #[error("{0}")]
    Server(String),
    /// Readings cannot be had from where they are.
    #[error("{0}")]
    Unread(String),
    /// Standard output is closed or full.
    #[error("standard output: {0}")]
    Output(std::io::Error),
}

impl CliError {
    pub(crate) fn input(
        place: impl Into<String>,
        wrong: impl Into<String>,
        right: impl Into<String>,
    ) -> Self {
        Self::Input { place: place.into(), wrong: wrong.into(), right: right.into() }
    }

    /// 2 for bad input, 3 for input and output that failed.
    pub(crate) const fn exit_code(&self) -> u8 {
        match self {
            Self::Io { .. }
            | Self::Output(_)
            | Self::Serving(_)
            | Self::Server(_)
            | Self::Storage(_)
            | Self::Unread(_) => 3,
            Self::Input { .. } | Self::Refused(_) => 2,
        }
    }
}

impl CliError {
    /// Whether the reader of standard output went away, as `head` does.
    pub(crate) fn is_closed_pipe(&self) -> bool {
        matches!(self, Self::Output(e) if e.kind() == std::io::ErrorKind::BrokenPipe)
    }
}
