//! When a plant opens its stomata: `cargo run -p guardcell --example genus -- "Cattleya labiata"`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::reference::{GenusRequest, report};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let query = std::env::args().nth(1).unwrap_or_else(|| "Cattleya labiata".to_owned());
    let answer = report(&GenusRequest::new(query.clone()))?;
    println!(
        "{}: {:?}, opens {:?}",
        answer.name.as_deref().unwrap_or(&query),
        answer.pathway,
        answer.opens
    );
    for work in &answer.evidence.works {
        println!("  {}", work.work);
    }
    Ok(())
}
