use guardcell_units::basis::{N, Of};
use guardcell_units::feed_strength::FeedStrength;

fn main() {
    let _: Of<N> = FeedStrength::from_mg_per_l(300.0);
}
