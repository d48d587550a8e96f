use guardcell_units::conductivity::{Conductivity, SpecificConductance};
use guardcell_units::quantity::{celsius, us_per_cm};

fn main() {
    let reading = Conductivity::new(us_per_cm(1400.0), celsius(18.0));
    let _: SpecificConductance = reading.into();
}
