use guardcell_units::tds_scale::{MeterPpm, Scale500, Scale700};

fn main() {
    let _ = MeterPpm::<Scale500>::from_ppm(350.0) == MeterPpm::<Scale700>::from_ppm(350.0);
}
