//! `check`: the whole folder read, each part on its own, with what is missing and how to add it.

mod parts;

use crate::args::Check;
use crate::error::argument;
use crate::home::{Home, show};
use crate::print::Out;
use crate::verbs::Outcome;
use guardcell::Error;
use serde::Serialize;

/// What was read, what it was taken for, and what is to be done.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Report {
    pub(super) folder: String,
    pub(super) sections: Vec<Section>,
    /// What is missing or wrong, with how to add or mend it.
    pub(crate) to_do: Vec<String>,
}

/// One part of the folder.
#[derive(Debug, Serialize)]
pub(super) struct Section {
    pub(super) title: &'static str,
    pub(super) lines: Vec<String>,
}

impl Report {
    pub(super) fn add(&mut self, title: &'static str, lines: Vec<String>) {
        self.sections.push(Section { title, lines });
    }

    /// A fault of a file: what is wrong, where, and what would be right.
    pub(super) fn wrong(&mut self, error: &Error) {
        let place = error.place().map_or(String::new(), |p| format!("{p}: "));
        let field = error.field().map_or(String::new(), |f| format!("{f}: "));
        let hint =
            if error.hint().is_empty() { String::new() } else { format!(": {}", error.hint()) };
        self.to_do.push(format!("{place}{field}{}{hint}", error.detail()));
    }
}

pub(crate) fn run(args: &Check, home: &Home, out: &mut Out) -> Result<Outcome, Error> {
    if home.root().is_none() {
        return Err(argument(
            "--dir",
            "there is no folder to check here or above",
            "go to your folder, name it with --dir, or make one with `guardcell init`",
        ));
    }
    let report = report(home, args.at.as_deref());
    if out.json() {
        out.value(&report)?;
    } else {
        print(&report, out);
    }
    Ok(if report.to_do.is_empty() { Outcome::Answer } else { Outcome::Negative })
}

/// The whole folder, read.
pub(crate) fn report(home: &Home, at: Option<&str>) -> Report {
    let folder = home.root().map(show).unwrap_or_default();
    let mut report = Report { folder, ..Report::default() };
    parts::read(home, at, &mut report);
    report
}

fn print(report: &Report, out: &mut Out) {
    for (i, section) in report.sections.iter().enumerate() {
        if i > 0 {
            out.line("");
        }
        let mut head = format!("{:<9}", section.title);
        for line in &section.lines {
            out.item(&head, line);
            head = " ".repeat(9);
        }
    }
    out.line("");
    if report.to_do.is_empty() {
        out.line("Nothing is missing. Type guardcell for what to do today.");
        return;
    }
    out.line("TO DO");
    for line in &report.to_do {
        out.item("  - ", line);
    }
}
