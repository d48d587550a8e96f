use guardcell_units::alkalinity::Alkalinity;
use guardcell_units::hardness::Hardness;

fn main() {
    let _ = Hardness::from_german_degrees(14.0) + Alkalinity::from_german_degrees(8.0);
}
