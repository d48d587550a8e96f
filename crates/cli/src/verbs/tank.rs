//! `tank`: stock tanks for an injector.

use crate::args;
use crate::backend::Backend;
use crate::error::Located;
use crate::input::text as input;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Tank;
use guardcell::solution::TankRequest;

pub(crate) fn run(args: &args::Tank, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let text = input::read_lines_of_any_length(&args.file)?;
    let request: TankRequest =
        guardcell::read_request(text.as_bytes()).map_err(|e| e.in_path(&args.file))?;
    let answer = backend.ask::<Tank>(&request).map_err(|e| e.in_path(&args.file))?;
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
