//! Converts a quantity as a label writes it: `cargo run -p guardcell --example convert -- "120 ppm P2O5" "ppm P"`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::units::{ConvertRequest, convert};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut words = std::env::args().skip(1);
    let quantity = words.next().unwrap_or_else(|| "120 ppm P2O5".to_owned());
    let to = words.next().unwrap_or_else(|| "ppm P".to_owned());
    let request = ConvertRequest::new(quantity, to);
    let answer = convert(&request)?;
    println!("{} = {} {}", request.quantity, answer.value, answer.unit);
    for note in &answer.notes {
        println!("  {note}");
    }
    Ok(())
}
