use guardcell_units::quantity::celsius;

fn main() {
    let _ = celsius(18.0) + celsius(7.0);
}
