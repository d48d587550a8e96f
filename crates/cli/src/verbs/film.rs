//! `film`: one drying film.

use crate::args;
use crate::backend::Backend;
use crate::error::{Located, argument};
use crate::home::Home;
use crate::print::{Out, text};
use crate::quantity;
use guardcell::Error;
use guardcell::calls::Film;
use guardcell::film::{Dissolved, FilmRequest, FilmResponse, FilmState};
use guardcell::reference::Composition;
use guardcell::solution::{Product, Water};

pub(crate) fn run(
    args: &args::Film,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let word = quantity::air_word(&args.air);
    let speed = match word {
        Some(_) => None,
        None => Some(quantity::air("--air", &args.air)?),
    };
    let mut request = FilmRequest::new(
        quantity::celsius("--temp", &args.temp)?,
        quantity::humidity("--humidity", &args.humidity)?,
    )
    .with_leaf_cm(quantity::centimetres("--leaf", &args.leaf)?)
    .with_load_g_m2(quantity::grams_per_square_metre("--load", &args.load)?)
    .with_composition(Dissolved::from(&composition(args, home)?));
    request.air_m_s = speed;
    request.air_words = word;
    let report = backend.ask::<Film>(&request)?;
    if out.json() {
        return out.value(&report);
    }
    print(&report, out);
    Ok(())
}

/// Feed and water together.
fn composition(args: &args::Film, home: &Home) -> Result<Composition, Error> {
    // Without a strength the labels of the folder are of no use.
    let feed = match (&args.strength, &args.feed.label) {
        (None, None) => None,
        _ => home.feed(args.feed.label.as_deref(), &args.feed.product, None)?,
    };
    let feed = match (&feed, &args.strength) {
        (Some((path, label)), Some(strength)) => {
            let product = Product::new(label).map_err(|e| e.in_path(path))?;
            let strength = quantity::strength("--strength", strength)?;
            product.composition_at(strength.mass_concentration())
        }
        (None, None) => Composition::PURE_WATER,
        (Some(_), None) => {
            return Err(argument(
                "--strength",
                "a label is given and no strength",
                "add a feed strength, such as \"300 mg/L feed\"",
            ));
        }
        (None, Some(_)) => {
            return Err(argument(
                "--label",
                "a strength is given and no label",
                "add the label of the feed",
            ));
        }
    };
    let water = match home.water(args.water.as_deref(), None)? {
        Some((path, water)) => {
            Water::from_report(&water).map_err(|e| e.in_path(&path))?.composition()
        }
        None => Composition::PURE_WATER,
    };
    Ok(feed + water)
}

fn print(r: &FilmResponse, out: &mut Out) {
    let state = match r.state {
        FilmState::Wet => "wet: every salt stays dissolved",
        FilmState::PartlySolid => "partly solid",
        FilmState::Dry => "dry",
    };
    out.line(format!("  in the end           {state}"));
    out.line(format!(
        "  dry to the touch     {}",
        r.dry_minutes.map_or("never in this air".into(), |m| format!("after {}", text::minutes(m)))
    ));
    out.line(format!("  residue              {} g/m²", text::significant(r.residue_g_m2, 3)));
    out.line(format!("  seen as white        {}", text::chance(r.residue_probability)));
    out.line(format!(
        "  peak concentration   {} g/L",
        text::significant(r.peak_concentration_g_l, 3)
    ));
    for notice in &r.notices {
        out.item("  ", &notice.message);
    }
}
