//! `convert`: a quantity of the trade in another unit or basis.

use crate::args;
use crate::backend::Backend;
use crate::print::Out;
use guardcell::Error;
use guardcell::calls::Convert;
use guardcell::units::ConvertRequest;

pub(crate) fn run(args: &args::Convert, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let mut request = ConvertRequest::new(&args.quantity, &args.to);
    request.bulk_density.clone_from(&args.bulk_density);
    request.density.clone_from(&args.density);
    request.ec_compensation = args.ec_compensation;
    request.ec_percent_per_k = args.ec_percent_per_k;
    request.ppm_means = args.ppm_means;
    request.light_source = args.light_source;
    let answer = backend.ask::<Convert>(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    out.wrapped("", &answer.message);
    for note in &answer.notes {
        out.item("  note: ", note);
    }
    Ok(())
}
