//! `study threshold`: the learned residue threshold held against growers whose threshold is known.
//!
//! Growers are invented by a generator that shares nothing with the learning but the questions it
//! is asked: each has a threshold, sprays what is proposed, and reports what it sees, with slips,
//! odd days, changes and habits. The table says how often the interval held the truth, how often
//! white was seen, and what of the best dose was given. It fails where a bar is missed.

mod bars;
mod grower;
mod world;

use crate::study_random::Random;
use bars::Bars;
use grower::{Houses, Tally, live};
use std::error::Error;
use world::{WORLDS, World};

/// Growers of each world from which the bars hold as they are; with fewer they are wider.
const GROWERS_FULL: usize = 200;

/// Runs every world, prints the table; whether all bars hold.
pub(crate) fn print(growers: usize, seed: u64) -> Result<bool, Box<dyn Error>> {
    if growers == 0 || growers > 10_000 {
        return Err("--growers: give 1 to 10000".into());
    }
    let houses = Houses::new();
    let wide = growers < GROWERS_FULL;
    println!("{growers} growers in each world, 60 rounds each; all figures in %");
    println!(
        "coverage of the 90 % interval after rounds 10/20/30/40/60; true chance of white (P) in \
         rounds 10-20, 40-60 and as told in 40-60;\nwhite seen in rounds 10-20, 20-25, 30-40, \
         20-60; strength over the best constant one in rounds 40-60\n"
    );
    println!("{:<34} {:<19} {:<12} {:<15} {:>4}", "world", "coverage", "P, told", "white", "dose");
    let mut holds = true;
    for (world, tally) in run(growers, seed, &houses)? {
        let missed = Bars::of(world).missed(&tally, wide);
        println!("{}", line(world, &tally));
        for m in &missed {
            println!("    missed: {m}");
        }
        holds &= missed.is_empty();
    }
    println!("\n{}", if holds { "Every bar holds." } else { "A bar was missed." });
    Ok(holds)
}

/// Every world with its sums, in the order of the list; as many at once as there are processors.
fn run(
    growers: usize,
    seed: u64,
    houses: &Houses,
) -> Result<Vec<(&'static World, Tally)>, Box<dyn Error>> {
    let workers = std::thread::available_parallelism().map_or(1, usize::from);
    let mut done: Vec<(usize, &'static World, Tally)> = std::thread::scope(|scope| {
        let hands: Vec<_> = (0..workers)
            .map(|worker| {
                scope.spawn(move || -> Result<Vec<_>, String> {
                    let mut out = Vec::new();
                    for (i, world) in WORLDS.iter().enumerate().skip(worker).step_by(workers) {
                        let mut tally = Tally::new();
                        for grower in 0..growers as u64 {
                            // The same growers in every world, whatever it asks of the generator.
                            let mut random = Random::new(seed ^ grower.wrapping_mul(0x9e37_79b9));
                            live(world, houses, &mut random, &mut tally)?;
                        }
                        out.push((i, world, tally));
                    }
                    Ok(out)
                })
            })
            .collect();
        let mut all = Vec::new();
        for hand in hands {
            all.extend(hand.join().map_err(|_| "a world of the study broke off".to_owned())??);
        }
        Ok::<_, String>(all)
    })?;
    done.sort_by_key(|(i, _, _)| *i);
    Ok(done.into_iter().map(|(_, world, tally)| (world, tally)).collect())
}

fn line(world: &World, t: &Tally) -> String {
    let p = |share: f64| format!("{:.0}", 100.0 * share);
    let coverage: Vec<String> = grower::CHECKED.iter().map(|r| p(t.coverage(*r))).collect();
    let white: Vec<String> =
        [(10, 20), (20, 25), (30, 40), (20, 60)].iter().map(|(a, b)| p(t.white(*a, *b))).collect();
    format!(
        "{:<34} {:<19} {:<12} {:<15} {:>4}",
        world.name,
        coverage.join("/"),
        format!("{},{},{}", p(t.chance(10, 20)), p(t.chance(40, 60)), p(t.told())),
        white.join(","),
        p(t.dose())
    )
}
