use guardcell_units::basis::{N, Of, P};

fn main() {
    let _ = Of::<N>::from_mg_per_l(150.0).to::<P>();
}
