//! `chart`: the safe-strength chart and the 24-hour ribbon.

use crate::args::{Chart, ChartDay, ChartKind, ChartStrength};
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, file};
use crate::quantity;
use crate::verbs::inputs;
use guardcell::Error;
use guardcell::advice::chart::{DayRibbonRequest, StrengthChartRequest};
use guardcell::calls::{DayRibbon, StrengthChart};

pub(crate) fn run(
    args: &Chart,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    match &args.kind {
        ChartKind::Strength(a) => strength(a, home, backend, out),
        ChartKind::Day(a) => day(a, home, backend, out),
    }
}

fn strength(
    args: &ChartStrength,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let found = home.feed(args.feed.label.as_deref(), &args.feed.product, None)?;
    let Some((_, feed)) = found else {
        return Err(argument("--label", "there is no product", "give its label"));
    };
    let temp_c = quantity::celsius("--temp", &args.temp)?;
    let request = StrengthChartRequest::new(feed, temp_c)
        .with_water(home.water(args.water.as_deref(), None)?.map(|(_, water)| water))
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

fn day(args: &ChartDay, home: &Home, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let read = inputs::read(&args.inputs, home)?;
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
