//! The site of a request as places, lights and hours that the clock understands.

use crate::moment;
use crate::request::{AreaDescription, Shelter, SiteDescription};
use guardcell_call::Bounded;
use guardcell_clock::{Latitude, Light, LightKind, Location, Longitude, Site};
use guardcell_error::{Code, Error, excerpt};
use jiff::civil::Time;
use jiff::{Timestamp, ZonedDateTime, tz::TimeZone};

/// A checked site.
#[derive(Debug)]
pub(crate) struct CheckedSite {
    pub(crate) zone: TimeZone,
    pub(crate) areas: Vec<CheckedArea>,
    pub(crate) working: Vec<(Time, Time)>,
}

/// A checked area.
#[derive(Debug)]
pub(crate) struct CheckedArea {
    pub(crate) id: String,
    pub(crate) description: AreaDescription,
    pub(crate) site: Site,
}

/// Where a site is, with the clock of its time zone.
pub(crate) fn location(site: &SiteDescription) -> Result<Location, Error> {
    Location::new(
        Latitude::from_degrees(site.latitude_deg).map_err(|e| e.at("/latitude_deg"))?,
        Longitude::from_degrees(site.longitude_deg).map_err(|e| e.at("/longitude_deg"))?,
        &site.time_zone,
    )
    .map_err(|_| {
        Error::new(
            Code::Unknown,
            format!("{:?} is not a time zone of the IANA database", excerpt(&site.time_zone, 60)),
            "write it like `Europe/London`",
        )
        .at("/time_zone")
    })
}

/// Checks a site and its areas.
pub(crate) fn checked(site: &SiteDescription) -> Result<CheckedSite, Error> {
    site.check_bounds()?;
    let location = location(site)?;
    grower(site)?;
    let mut areas: Vec<CheckedArea> = Vec::new();
    for (i, a) in site.areas.iter().enumerate() {
        let pointer = format!("/areas/{i}");
        a.check_bounds().map_err(|e| e.within(&pointer))?;
        if areas.iter().any(|other| other.id == a.id) {
            return Err(Error::new(
                Code::DuplicateId,
                format!("duplicate area id {:?}", a.id),
                "give each area its own id",
            )
            .at(format!("{pointer}/id")));
        }
        areas.push(CheckedArea {
            id: a.id.clone(),
            description: a.clone(),
            site: Site {
                location: location.clone(),
                light: light(a, &pointer)?,
                shelter: match a.shelter {
                    Shelter::Room | Shelter::Glass => guardcell_clock::Shelter::UnderCover,
                    Shelter::Outdoors => guardcell_clock::Shelter::Outdoors,
                },
            },
        });
    }
    let working = site
        .grower
        .working_hours
        .iter()
        .enumerate()
        .map(|(i, w)| {
            let at = |f: &str| format!("/grower/working_hours/{i}/{f}");
            Ok((moment::hour(&at("from"), &w.from)?, moment::hour(&at("to"), &w.to)?))
        })
        .collect::<Result<_, Error>>()?;
    Ok(CheckedSite { zone: location.zone().clone(), areas, working })
}

fn grower(site: &SiteDescription) -> Result<(), Error> {
    let g = &site.grower;
    g.check_bounds().map_err(|e| e.within("/grower"))?;
    for (i, feed) in site.feeds.iter().enumerate() {
        feed.check_bounds().map_err(|e| e.within(&format!("/feeds/{i}")))?;
        for (j, supplement) in feed.with.iter().enumerate() {
            let pointer = format!("/feeds/{i}/with/{j}");
            supplement.check_bounds().map_err(|e| e.within(&pointer))?;
        }
        if let Some(month) = feed.months.iter().find(|m| !(1..=12).contains(*m)) {
            return Err(Error::new(
                Code::OutOfRange,
                format!("there is no month {month}"),
                "number the months from 1 to 12",
            )
            .at(format!("/feeds/{i}/months")));
        }
    }
    for (i, s) in g.next_strengths.iter().enumerate() {
        s.check_bounds().map_err(|e| e.within(&format!("/grower/next_strengths/{i}")))?;
    }
    let stray = [
        ("residue_threshold_log_sd", g.residue_threshold_log_sd.is_some()),
        ("residue_threshold_looks", g.residue_threshold_looks.is_some()),
    ];
    match stray.into_iter().find(|(_, given)| *given && g.residue_threshold_g_m2.is_none()) {
        None => Ok(()),
        Some((field, _)) => Err(Error::new(
            Code::Conflict,
            "this describes a residue threshold that is not given",
            "give residue_threshold_g_m2 too, or omit this",
        )
        .at(format!("/grower/{field}"))),
    }
}

fn light(a: &AreaDescription, pointer: &str) -> Result<Light, Error> {
    let lamps =
        guardcell_clock::lamps(&a.lamps, a.lamp_cycle.as_ref()).map_err(|e| e.within(pointer))?;
    match (a.light, lamps) {
        (LightKind::Sun, None) => Ok(Light::Sun),
        (LightKind::Sun, Some(_)) => Err(Error::new(
            Code::Conflict,
            "lamp hours are given for an area lit by the sun",
            "set light = \"sun_and_lamps\" or \"lamps\", or omit the lamps",
        )
        .at(format!("{pointer}/lamps"))),
        (LightKind::Lamps, Some(l)) => Ok(Light::Lamps(l)),
        (LightKind::SunAndLamps, Some(l)) => Ok(Light::SunAndLamps(l)),
        (_, None) => Err(Error::new(
            Code::Missing,
            "the area has lamps but no lamp hours",
            "give at least one `on` and `off`, or a lamp_cycle",
        )
        .at(format!("{pointer}/lamps"))),
    }
}

impl CheckedSite {
    pub(crate) fn area(&self, id: &str) -> Option<(usize, &CheckedArea)> {
        self.areas.iter().enumerate().find(|(_, a)| a.id == id)
    }

    /// The area of this id, or an error without a pointer that lists those there are.
    pub(crate) fn known_area(&self, id: &str) -> Result<(usize, &CheckedArea), Error> {
        self.area(id).ok_or_else(|| {
            Error::new(
                Code::Unknown,
                format!("unknown area {:?}", excerpt(id, 60)),
                format!("name an area of the site ({}), or add it to the site", self.known_areas()),
            )
        })
    }

    fn known_areas(&self) -> String {
        let ids: Vec<&str> = self.areas.iter().map(|a| a.id.as_str()).collect();
        ids.join(", ")
    }

    /// Whether the grower can be there at this moment; at any moment where no hours are given.
    pub(crate) fn at_work(&self, t: Timestamp) -> bool {
        if self.working.is_empty() {
            return true;
        }
        let now = self.local(t).time();
        self.working.iter().any(|(from, to)| {
            if from <= to { now >= *from && now < *to } else { now >= *from || now < *to }
        })
    }

    pub(crate) fn local(&self, t: Timestamp) -> ZonedDateTime {
        t.to_zoned_datetime(self.zone.clone())
    }
}
