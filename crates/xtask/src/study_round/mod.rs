//! `study round`: what the round wastes and how long it takes, over a year of the demo climate.
//!
//! Collections of 5, 20, 50 and 200 plants are drawn from the demo collection with a fixed seed
//! and planned on days spread over the year. What is mixed is the water of the buckets and of the
//! top-ups; what is wasted of it is everything that no plant of the round gets: poured out of the
//! mister, left in it, left in the bucket. A stock solution is kept and counts as neither. It fails
//! where a bar is missed.

mod tally;

use crate::demo_year::Fernhollow;
use crate::study_random::Random;
use guardcell::advice::{AdviceRequest, PlantEntry, advise, round};
use std::error::Error;
use std::path::Path;
use tally::Tally;

/// Sizes of the collections, with the highest mean share of the mixed volume that may be wasted.
const SIZES: [(usize, Option<f64>); 4] =
    [(5, Some(0.35)), (20, Some(0.20)), (50, None), (200, None)];

/// Plans the year for every size, prints the table; whether all bars hold.
pub(crate) fn print(days: usize, seed: u64, root: &Path) -> Result<bool, Box<dyn Error>> {
    if days == 0 || days > 120 {
        return Err("--days: give 1 to 120".into());
    }
    let demo = Fernhollow::read(&root.join("demo-data"))?;
    println!("{days} days spread over the year, from noon for 36 hours; means over the rounds\n");
    println!("{}", Tally::HEAD);
    let mut holds = true;
    for (size, bar) in SIZES {
        let mut tally = Tally::default();
        for day in 0..days {
            let mut random = Random::new(seed ^ (day as u64).wrapping_mul(0x9e37_79b9));
            let request = request(&demo, size, day * 365 / days, &mut random)?;
            tally.add(&round(&request)?, &advise(&request)?);
        }
        println!("{}", tally.line(size));
        for missed in tally.missed(bar) {
            println!("    missed: {missed}");
            holds = false;
        }
    }
    println!("\n{}", if holds { "Every bar holds." } else { "A bar was missed." });
    Ok(holds)
}

/// A collection of so many plants on a day of the year.
fn request(
    demo: &Fernhollow,
    size: usize,
    day: usize,
    random: &mut Random,
) -> Result<AdviceRequest, Box<dyn Error>> {
    let n = demo.plants.len();
    let plants: Vec<PlantEntry> = (0..size)
        .filter_map(|i| {
            // Between 0 and 1, neither of them.
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below n")]
            let drawn = (random.unit() * n as f64) as usize;
            let like = demo.plants.get(drawn)?;
            let mut plant = like.clone();
            plant.id = format!("S-{i:03}");
            Some(plant)
        })
        .collect();
    let at = jiff::civil::date(2026, 1, 1).checked_add(jiff::Span::new().days(day as i64))?;
    demo.request(at, plants)
}
