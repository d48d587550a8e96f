//! The calls that this crate offers to other programs.

use crate::convert::{ConvertRequest, ConvertResponse, convert};
use guardcell_call::{Call, Error, Group, Work};

/// `convert`: a quantity of the trade in another unit or basis.
///
/// ```
/// # mod guardcell { pub use guardcell_call::Call; pub mod units { pub use guardcell_units::*; } }
/// use guardcell::Call;
/// use guardcell::units::calls::Convert;
/// let request = serde_json::from_str(Convert::EXAMPLE).unwrap();
/// assert_eq!(Convert::run(&request).unwrap().message, "120 mg/L P2O5 = 52.371 mg/L P");
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Convert;

impl Call for Convert {
    type Request = ConvertRequest;
    type Response = ConvertResponse;
    const NAME: &'static str = "convert";
    const PATH: &'static str = "conversions";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "Convert a quantity to another unit or basis";
    const DESCRIPTION: &'static str = "Reads a quantity as growers write it (fractions, decimal \
        commas, labels in oxides, degrees of hardness, EC at a temperature, ppm of a meter) and \
        gives it in another unit or basis. A bare ppm is refused unless `ppm_means` says what it \
        counts. Conversions that depend on the product (EC to ppm of a nutrient) are refused with \
        the reason; those that need a bulk density, a density or a light source ask for it. The \
        response lists what was assumed and the sources of the definitions.";
    const EXAMPLE: &'static str = include_str!("../calls/convert.json");

    fn work(_: &ConvertRequest) -> Work {
        Work::TINY
    }

    fn run(request: &ConvertRequest) -> Result<ConvertResponse, Error> {
        convert(request)
    }
}
