//! `tank`: stock tanks for an injector.

use crate::args;
use crate::error::CliError;
use crate::input::text as input;
use crate::print::{Out, text};
use guardcell::solution::{TankRequest, tank};

pub(crate) fn run(args: &args::Tank, out: &mut Out) -> Result<(), CliError> {
    let place = args.file.display().to_string();
    let request: TankRequest = serde_json::from_str(&input::read(&args.file)?).map_err(|e| {
        CliError::input(
            format!("{place}:{}:{}", e.line(), e.column()),
            e.to_string(),
            "see `guardcell tank --help` for what the file holds",
        )
    })?;
    let answer = tank(&request).map_err(|e| CliError::Refused(format!("{place}: {e}")))?;
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
        out.item("  apart: ", &a.says);
    }
    for w in &answer.warnings {
        out.item("  note: ", &w.says);
    }
    Ok(())
}
