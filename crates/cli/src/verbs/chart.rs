//! `chart`: the safe-strength chart and the 24-hour ribbon.

use crate::answers::Answers;
use crate::args::{Chart, ChartDay, ChartKind, ChartStrength};
use crate::error::CliError;
use crate::input::{label, water};
use crate::print::{Out, file};
use crate::verbs::air::option;
use crate::verbs::situation;
use guardcell::advice::chart::{DayRibbonRequest, StrengthChartRequest};
use guardcell::units::parse_temperature;
use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;

pub(crate) fn run(args: &Chart, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    match &args.kind {
        ChartKind::Strength(a) => strength(a, answers, out),
        ChartKind::Day(a) => day(a, answers, out),
    }
}

fn strength(args: &ChartStrength, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    let Some(path) = &args.feed.label else {
        return Err(CliError::input("--label", "there is no product", "give its label"));
    };
    let request = StrengthChartRequest {
        feed: label::choose_one(label::read(path)?, &args.feed.product, None)?,
        water: args.water.as_deref().map(water::read).transpose()?,
        temp_c: option("--temp", &args.temp, parse_temperature)?.get::<degree_celsius>(),
        tolerance: args.tolerance,
        residue_threshold_g_m2: None,
    };
    let chart = answers.strength_chart(&request)?;
    if let Some(path) = &args.svg {
        file::write(path, &chart.svg())?;
    }
    if out.json() {
        return out.value(&chart);
    }
    print(&chart.terminal(), &chart.description, out);
    Ok(())
}

fn day(args: &ChartDay, answers: &Answers, out: &mut Out) -> Result<(), CliError> {
    let read = situation::read(&args.situation)?;
    let request = DayRibbonRequest { situation: read.request.clone(), area: args.area.clone() };
    let chart = answers.day_ribbon(&request).map_err(|e| read.fault(e))?;
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
