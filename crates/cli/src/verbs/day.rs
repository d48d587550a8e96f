//! `day`: sun, lamps and openings of one date.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::moment;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::advice::{AreaDescription, Shelter, SiteDescription};
use guardcell::calls::Day;
use guardcell::clock::{DayRequest, DayResponse, OpeningList};

pub(crate) fn run(
    args: &args::Day,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let site = home.site(args.site.as_deref())?;
    let area = area(&site, args.area.as_deref())?;
    let request = DayRequest::new(
        site.latitude_deg,
        site.longitude_deg,
        site.time_zone.clone(),
        moment::date(args.date.as_deref(), &site.time_zone),
    )
    .with_light(area.light)
    .with_lamps(area.lamps.clone())
    .with_lamp_cycle(area.lamp_cycle.clone())
    .with_outdoors(area.shelter == Shelter::Outdoors)
    .with_water_status(area.water_status);
    let day = backend.ask::<Day>(&request)?;
    if out.json() {
        return out.value(&day);
    }
    print(&site, area, &day, out);
    Ok(())
}

/// The area of a site by its id, or its first.
pub(crate) fn area<'a>(
    site: &'a SiteDescription,
    id: Option<&str>,
) -> Result<&'a AreaDescription, Error> {
    let found = match id {
        Some(id) => site.areas.iter().find(|a| a.id == id),
        None => site.areas.first(),
    };
    found.ok_or_else(|| {
        let known: Vec<&str> = site.areas.iter().map(|a| a.id.as_str()).collect();
        argument(
            "--area",
            format!("{:?} is not an area of {}", id.unwrap_or_default(), site.name),
            format!("name one of {}", known.join(", ")),
        )
    })
}

fn print(site: &SiteDescription, area: &AreaDescription, day: &DayResponse, out: &mut Out) {
    out.line(format!("{}, {}, {} ({})", site.name, area.name, day.date, day.time_zone));
    let time = |t: &Option<String>| t.as_deref().map_or("none".to_owned(), text::time);
    out.line(format!("  civil dawn {}   sunrise {}", time(&day.civil_dawn), time(&day.sunrise)));
    out.line(format!("  sunset     {}   civil dusk {}", time(&day.sunset), time(&day.civil_dusk)));
    let spans: Vec<String> = day.lit.iter().map(|s| text::span(&s.start, &s.end)).collect();
    out.item("  light      ", &if spans.is_empty() { "none".into() } else { spans.join("; ") });
    for (name, openings) in [
        ("C3", &day.openings.c3),
        ("CAM", &day.openings.cam),
        ("facultative", &day.openings.facultative),
    ] {
        openings_of(name, openings, out);
    }
}

fn openings_of(name: &str, o: &OpeningList, out: &mut Out) {
    out.line(format!("  {name}"));
    if o.openings.is_empty() {
        out.line("    no opening");
    }
    for opening in &o.openings {
        out.line(format!(
            "    {}  open with probability {:.2}, choice {}",
            text::span(&opening.start, &opening.end),
            opening.probability,
            opening.rank
        ));
    }
    for r in &o.reasons {
        out.item("    ", &r.message);
    }
}
