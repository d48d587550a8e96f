//! `convert`: a quantity of the trade in another unit or basis.

use crate::answers::Answers;
use crate::args;
use crate::error::CliError;
use crate::print::Out;
use guardcell::units::ConvertRequest;

pub(crate) fn run(args: &args::Convert, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    let mut request = ConvertRequest::new(&args.quantity, &args.to);
    request.bulk_density.clone_from(&args.bulk_density);
    request.density.clone_from(&args.density);
    request.ec_compensation = args.ec_compensation;
    request.ec_percent_per_k = args.ec_percent_per_k;
    request.ppm_means = args.ppm_means;
    request.light_source = args.light_source;
    let answer = answers.convert(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    out.wrapped("", &answer.message);
    for note in &answer.notes {
        out.item("  note: ", note);
    }
    Ok(())
}
