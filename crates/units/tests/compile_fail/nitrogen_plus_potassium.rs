use guardcell_units::basis::{K, N, Of};

fn main() {
    let _ = Of::<N>::from_mg_per_l(150.0) + Of::<K>::from_mg_per_l(150.0);
}
