//! `convert`: a quantity of the trade in another unit or basis.

use crate::answers::Answers;
use crate::args;
use crate::error::CliError;
use crate::print::Out;
use guardcell::units::ConvertRequest;

pub(crate) fn run(args: &args::Convert, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    let request = ConvertRequest {
        quantity: args.quantity.clone(),
        to: args.to.clone(),
        bulk_density: args.bulk_density.clone(),
        ec_compensation: None,
        ec_percent_per_k: None,
        ppm_means: None,
    };
    let answer = answers.convert(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    out.wrapped("", &answer.says);
    for note in &answer.notes {
        out.item("  note: ", note);
    }
    Ok(())
}
