//! How fast advice is, as ratios to reading the same request from JSON in the same run.
//!
//! `cargo bench -p guardcell-advice`: divide the median of a bench by that of its baseline.

use guardcell_advice::{AdviceRequest, advise, round};
use serde_json::{Value, json};

fn main() {
    divan::main();
}

/// Hourly readings of three days with a daily course, and so many plants.
fn request(plants: usize) -> String {
    let readings: Vec<Value> = (0..=72)
        .map(|h| {
            let phase = f64::from(h % 24) / 24.0 * std::f64::consts::TAU;
            json!({
                "time": format!("2026-06-{:02}T{:02}:00:00Z", 21 + h / 24, h % 24),
                "temp_c": 20.0 - 4.0 * phase.cos(),
                "rh_percent": 75.0 + 15.0 * phase.cos(),
                "air_m_s": 0.3,
                "radiation_w_m2": (-300.0 * phase.cos()).max(0.0)
            })
        })
        .collect();
    let names = ["Cattleya labiata", "Masdevallia", "Vanda", "Dendrobium", "Phalaenopsis"];
    let standings = ["established", "ordinary", "weak", "seedling"];
    let plants: Vec<Value> = (0..plants)
        .map(|i| {
            json!({
                "id": i.to_string(), "name": names[i % 5], "area": "house",
                "setting": "mounted", "standing": standings[i % 4], "growth": "active"
            })
        })
        .collect();
    json!({
        "site": {
            "name": "Bench", "latitude_deg": 50.0, "longitude_deg": 0.0, "time_zone": "Etc/UTC",
            "areas": [{"id": "house", "name": "House", "shelter": "glass"}]
        },
        "readings": readings,
        "plants": plants,
        "feed": {
            "name": "Bench 13-2-13",
            "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
            "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}
        },
        "at": "2026-06-21T00:00:00Z",
        "hours": 72
    })
    .to_string()
}

fn parsed(text: &str) -> AdviceRequest {
    serde_json::from_str(text).unwrap_or_else(|e| unreachable!("the bench's own request: {e}"))
}

/// Baseline: reading the request.
#[divan::bench(args = [1, 100, 10_000], sample_count = 20)]
fn read_request(bencher: divan::Bencher<'_, '_>, plants: usize) {
    let text = request(plants);
    bencher.bench(|| parsed(divan::black_box(&text)));
}

/// Complete advice over 72 hours, unknowns included.
#[divan::bench(args = [1, 100, 10_000], sample_count = 20)]
fn advise_72_h(bencher: divan::Bencher<'_, '_>, plants: usize) {
    let request = parsed(&request(plants));
    bencher.bench(|| advise(divan::black_box(&request)));
}

/// Advice for now: one plant, one reading.
#[divan::bench]
fn advise_now(bencher: divan::Bencher<'_, '_>) {
    let mut request = parsed(&request(1));
    request.readings.truncate(1);
    request.hours = 1;
    bencher.bench(|| advise(divan::black_box(&request)));
}

/// A round for the same plants.
#[divan::bench(args = [1, 100], sample_count = 20)]
fn round_72_h(bencher: divan::Bencher<'_, '_>, plants: usize) {
    let request = parsed(&request(plants));
    bencher.bench(|| round(divan::black_box(&request)));
}
