//! `tank`: stock tanks for an injector.

use crate::answers::Answers;
use crate::args;
use crate::error::CliError;
use crate::input::text as input;
use crate::print::{Out, text};
use guardcell::solution::TankRequest;

pub(crate) fn run(args: &args::Tank, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    let place = args.file.display().to_string();
    let request: TankRequest = serde_json::from_str(&input::read(&args.file)?).map_err(|e| {
        CliError::input(
            format!("{place}:{}:{}", e.line(), e.column()),
            e.to_string(),
            "see `guardcell tank --help` for what the file holds",
        )
    })?;
    let answer = answers.tank(&request).map_err(|e| e.of(&place))?;
    if out.json() {
        return out.value(&answer);
    }
    for t in &answer.tanks {
        out.line(format!("  tank {}", t.tank));
        for p in &t.products {
            out.line(format!(
                "    {} {} {} ({} {} in a litre of stock)",
                text::significant(p.amount, 4),
                p.unit,
                p.name,
                text::significant(p.per_litre, 4),
                p.unit
            ));
        }
    }
    for a in &answer.apart {
        out.item("  apart: ", &a.message);
    }
    for w in &answer.warnings {
        out.item("  note: ", &w.message);
    }
    Ok(())
}
