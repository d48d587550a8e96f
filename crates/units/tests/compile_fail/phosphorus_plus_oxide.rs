use guardcell_units::basis::{Of, P, P2O5};

fn main() {
    let _ = Of::<P>::from_mg_per_l(52.0) + Of::<P2O5>::from_mg_per_l(120.0);
}
