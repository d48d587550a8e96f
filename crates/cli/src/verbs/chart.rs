//! `chart`: the safe-strength chart and the 24-hour ribbon.

use crate::args::{Chart, ChartDay, ChartKind, ChartStrength};
use crate::backend::Backend;
use crate::error::argument;
use crate::input::{label, water};
use crate::print::{Out, file};
use crate::verbs::air::option;
use crate::verbs::inputs;
use guardcell::Error;
use guardcell::advice::chart::{DayRibbonRequest, StrengthChartRequest};
use guardcell::calls::{DayRibbon, StrengthChart};
use guardcell::units::parse_temperature;
use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;

pub(crate) fn run(args: &Chart, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    match &args.kind {
        ChartKind::Strength(a) => strength(a, backend, out),
        ChartKind::Day(a) => day(a, backend, out),
    }
}

fn strength(args: &ChartStrength, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let Some(path) = &args.feed.label else {
        return Err(argument("--label", "there is no product", "give its label"));
    };
    let request = StrengthChartRequest::new(
        label::choose_one(label::read(path)?, &args.feed.product, None)?,
        option("--temp", &args.temp, parse_temperature)?.get::<degree_celsius>(),
    )
    .with_water(args.water.as_deref().map(water::read).transpose()?)
    .with_tolerance(args.tolerance);
    let chart = backend.ask::<StrengthChart>(&request)?;
    if let Some(path) = &args.svg {
        file::write(path, &chart.svg())?;
    }
    if out.json() {
        return out.value(&chart);
    }
    print(&chart.terminal(), &chart.description, out);
    Ok(())
}

fn day(args: &ChartDay, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let read = inputs::read(&args.inputs)?;
    let request = DayRibbonRequest::new(read.request.clone()).with_area(args.area.clone());
    let chart = backend.ask::<DayRibbon>(&request).map_err(|e| read.locate(e))?;
    if let Some(path) = &args.svg {
        file::write(path, &chart.svg())?;
    }
    if out.json() {
        return out.value(&chart);
    }
    print(&chart.terminal(), &chart.description, out);
    Ok(())
}

/// The picture in characters, then in words.
fn print(picture: &[String], says: &[String], out: &mut Out) {
    for line in picture {
        out.line(line);
    }
    out.line("");
    for words in says {
        out.wrapped("", words);
    }
}
