//! `meter`: from a reading to feed strength and ppm N.

mod which;

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Meter;
use guardcell::solution::meter::MeterReading;
use guardcell::solution::{Bounds, MeterRequest};
use guardcell::units::quantity::{in_celsius, in_us_per_cm};
use guardcell::units::tds_scale::Scale;
use guardcell::units::text::{Measure, Quantity};

pub(crate) fn run(
    args: &args::Meter,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    if args.which_scale {
        return which::run(args, home, backend, out);
    }
    let found = home.feed(args.feed.label.as_deref(), &args.feed.product, None)?;
    let Some((_, label)) = found else {
        return Err(argument(
            "--label",
            "there is no product",
            "give its label: a meter reads salts, and what they are follows from the product",
        ));
    };
    let (reading, uncompensated_at_c) = reading(&args.reading)?;
    let mut request = MeterRequest::new(label, reading);
    request.water = home.water(args.water.as_deref(), None)?.map(|(_, water)| water);
    request.uncompensated_at_c = uncompensated_at_c;
    request.accuracy_percent = args.accuracy_percent;
    let answer = backend.ask::<Meter>(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    out.line(format!(
        "  reading        {} at 25 °C, of which the water alone is {}",
        text::ms_cm(answer.ec25_us_cm),
        text::ms_cm(answer.water_ec25_us_cm)
    ));
    out.line(format!("  feed strength  {} mg/L", range(&answer.feed_strength_mg_l)));
    out.line(format!("  nitrogen       {} ppm N from the feed", range(&answer.n_mg_l)));
    if answer.urea_n_mg_l.high > 0.0 {
        out.line(format!(
            "  of it urea N   {} ppm, which the meter does not see",
            range(&answer.urea_n_mg_l)
        ));
    }
    for w in &answer.warnings {
        out.item("  note: ", &w.message);
    }
    Ok(())
}

fn range(b: &Bounds) -> String {
    let n = |v: f64| text::significant(v, 3);
    format!("{} ({} to {})", n(b.middle()), n(b.low), n(b.high))
}

/// A reading, and the temperature of the solution where the meter did not compensate.
fn reading(words: &str) -> Result<(MeterReading, Option<f64>), Error> {
    let q = Quantity::parse(words).map_err(|e| e.of_argument("reading"))?;
    match q.measure() {
        Measure::SpecificConductance(k) => Ok((MeterReading::EcUsCm(k.us_per_cm()), None)),
        Measure::Conductivity(k) => {
            Ok((MeterReading::EcUsCm(in_us_per_cm(k.value())), Some(in_celsius(k.at()))))
        }
        Measure::Meter(_, scale) => {
            let ppm = q.number();
            Ok((
                match scale {
                    Scale::S500 => MeterReading::Ppm500(ppm),
                    Scale::S640 => MeterReading::Ppm640(ppm),
                    Scale::S700 => MeterReading::Ppm700(ppm),
                },
                None,
            ))
        }
        _ => Err(argument(
            "reading",
            format!("{words:?} is not what a meter shows"),
            "give an EC (\"0.45 mS/cm\") or ppm with the scale (\"225 ppm meter 500\")",
        )),
    }
}
