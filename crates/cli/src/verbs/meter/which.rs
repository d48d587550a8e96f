//! `meter --which-scale`: the scale of a pen that shows ppm, from a solution whose EC is known.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, text};
use crate::quantity;
use guardcell::calls::Recipe;
use guardcell::reference::parameters::solution as parameter;
use guardcell::solution::meter::MeterReading;
use guardcell::solution::{Bounds, RecipeRequest, recipe::Target};
use guardcell::units::tds_scale::Scale;
use guardcell::{Bounded as _, Error};
use serde::Serialize;

/// What the pen is.
#[derive(Debug, Serialize)]
struct Which {
    /// What it showed.
    ppm: f64,
    /// The EC of the solution, µS/cm at 25 °C.
    ec25_us_cm: Bounds,
    /// ppm that it shows for one mS/cm.
    ppm_per_ms_cm: f64,
    /// The scales that fit, nearest first; none where no scale does.
    scales: Vec<&'static str>,
}

pub(super) fn run(
    args: &args::Meter,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let ppm = ppm(&args.reading)?;
    // The scale that shows the most sets the bound.
    within("reading", MeterReading::Ppm700(ppm))?;
    let (ec, from) = known_ec(args, home, backend)?;
    within("--reference", MeterReading::EcUsCm(ec.high))?;
    let which =
        which(ppm, ec, args.accuracy_percent.unwrap_or(parameter::METER_ACCURACY.percent()))?;
    if out.json() {
        return out.value(&which);
    }
    out.line(format!("  solution   {}, {from}", text::ms_cm(which.ec25_us_cm.middle())));
    out.line(format!(
        "  the pen    {} ppm: it shows {:.0} ppm for 1 mS/cm",
        text::significant(ppm, 4),
        which.ppm_per_ms_cm
    ));
    let shown: Vec<String> = Scale::ALL
        .into_iter()
        .map(|s| {
            let would = which.ec25_us_cm.middle() * s.ppm_per_us_cm();
            format!("{} on the {}", text::significant(would, 3), s.name())
        })
        .collect();
    out.item("  scales     ", &format!("would show {}", shown.join(", ")));
    out.item(
        "  so it is   ",
        &match which.scales.as_slice() {
            [one] => format!("the {one} scale: write its readings as \"{ppm:.0} ppm meter {one}\""),
            [] => "none of them: rinse the pen, read again at 25 °C, or calibrate it".to_owned(),
            several => format!(
                "the {} scale, which cannot be told from this: read a stronger solution, or one whose \
                 EC is known more closely",
                several.join(" or ")
            ),
        },
    );
    Ok(())
}

/// Refuses what no meter shows, by the bounds of a reading.
fn within(argument: &str, reading: MeterReading) -> Result<(), Error> {
    reading.check_bounds().map_err(|e| e.without_pointer().of_argument(argument))
}

/// The scales that a reading of a known EC fits. Pen and EC may both be off by the accuracy.
fn which(ppm: f64, ec25_us_cm: Bounds, accuracy_percent: f64) -> Result<Which, Error> {
    let middle = ec25_us_cm.middle();
    if middle.is_nan() || middle <= 0.0 || ppm <= 0.0 {
        return Err(argument(
            "reading",
            "a solution without salts tells no scale",
            "read a solution of 0.5 mS/cm or more",
        ));
    }
    let doubt = accuracy_percent / 100.0;
    let off = |s: &Scale| (ppm / (middle * s.ppm_per_us_cm())).ln().abs();
    let fits = |s: &Scale| {
        let expected = |us_cm: f64| us_cm * s.ppm_per_us_cm();
        ppm <= expected(ec25_us_cm.high) * (1.0 + doubt).powi(2)
            && ppm >= expected(ec25_us_cm.low) * (1.0 - doubt).powi(2)
    };
    let mut scales: Vec<Scale> = Scale::ALL.into_iter().filter(fits).collect();
    scales.sort_by(|a, b| off(a).total_cmp(&off(b)));
    Ok(Which {
        ppm,
        ec25_us_cm,
        ppm_per_ms_cm: ppm / middle * 1000.0,
        scales: scales.into_iter().map(Scale::name).collect(),
    })
}

/// `225`, `225 ppm`.
fn ppm(text: &str) -> Result<f64, Error> {
    let number = text.trim().trim_end_matches("ppm").trim();
    number.parse::<f64>().ok().filter(|v| v.is_finite() && *v >= 0.0).ok_or_else(|| {
        argument(
            "reading",
            format!("{text:?} is not a reading in ppm"),
            "write what the pen shows, such as \"225 ppm\"",
        )
    })
}

/// The EC of the solution at 25 °C, and how it is known.
fn known_ec(args: &args::Meter, home: &Home, backend: &Backend) -> Result<(Bounds, String), Error> {
    if let Some(reference) = &args.reference {
        let us_cm = quantity::conductance("--reference", reference)?;
        let exact = Bounds { low: us_cm, value: Some(us_cm), high: us_cm };
        return Ok((exact, "as given".to_owned()));
    }
    let feed = home.feed(args.feed.label.as_deref(), &args.feed.product, None)?;
    let (Some(strength), Some((_, label))) = (&args.strength, feed) else {
        return Err(argument(
            "--reference",
            "the EC of the solution is not known",
            "give it: --reference \"1413 µS/cm\" of a calibration solution, or what another meter \
             shows; or weigh your feed and give --strength \"1000 mg/L\" with its label",
        ));
    };
    let target = Target::FeedStrength { mg_l: quantity::strength_mg_l("--strength", strength)? };
    let name = label.name.clone();
    let mut request = RecipeRequest::single(label, 1.0, target);
    request.water = home.water(args.water.as_deref(), None)?.map(|(_, water)| water);
    Ok((backend.ask::<Recipe>(&request)?.ec25_us_cm, format!("calculated for {name}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(ppm: f64, low: f64, high: f64) -> Vec<&'static str> {
        let value = (low == high).then_some(low);
        which(ppm, Bounds { low, value, high }, 2.0).unwrap().scales
    }

    /// By hand: 1413 µS/cm is 706.5 ppm on the 500 scale, 904.3 on the 640, 989.1 on the 700. With
    /// 2 % for pen and EC each, 640 reaches from 868 to 941 and 700 from 950 to 1029.
    #[test]
    fn a_calibration_solution_tells_the_scale() {
        assert_eq!(of(706.0, 1413.0, 1413.0), ["500"]);
        assert_eq!(of(890.0, 1413.0, 1413.0), ["640"]);
        assert_eq!(of(1000.0, 1413.0, 1413.0), ["700"]);
        assert!(of(945.0, 1413.0, 1413.0).is_empty() && of(1413.0, 1413.0, 1413.0).is_empty());
        // An EC that is known within 10 % cannot tell 640 from 700.
        assert_eq!(of(945.0, 1300.0, 1450.0), ["700", "640"]);
        assert!(which(1.0, Bounds { low: 0.0, value: Some(0.0), high: 0.0 }, 2.0).is_err());
        assert!(within("reading", MeterReading::Ppm700(1e5)).is_ok());
        for absurd in [MeterReading::Ppm700(1e22), MeterReading::EcUsCm(f64::INFINITY)] {
            assert!(within("reading", absurd).is_err());
        }
        assert!(ppm("225 ppm").is_ok() && ppm("225").is_ok() && ppm("EC 2").is_err());
    }
}
