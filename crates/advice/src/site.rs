//! The site of a request as places, lights and hours that the clock understands.

use crate::error::RequestError;
use crate::moment;
use crate::readings::in_range;
use crate::request::{AreaDescription, Shelter, SiteDescription};
use guardcell_clock::wire::LightKind;
use guardcell_clock::{Lamps, Latitude, Light, Longitude, Place, Site};
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

/// Checks a site and its areas.
pub(crate) fn checked(site: &SiteDescription) -> Result<CheckedSite, RequestError> {
    in_range("/site/latitude_deg", site.latitude_deg, -90.0, 90.0, "°")?;
    in_range("/site/longitude_deg", site.longitude_deg, -180.0, 180.0, "°")?;
    in_range("/site/elevation_m", site.elevation_m, -430.0, 5500.0, "m")?;
    let place = Place::new(
        Latitude::from_degrees(site.latitude_deg).map_err(RequestError::Clock)?,
        Longitude::from_degrees(site.longitude_deg).map_err(RequestError::Clock)?,
        &site.time_zone,
    )
    .map_err(|_| RequestError::UnknownZone {
        pointer: "/site/time_zone".into(),
        zone: site.time_zone.clone(),
    })?;
    if site.areas.is_empty() {
        return Err(RequestError::value(
            "/site/areas",
            "the site has no areas",
            "describe at least one, with id, name, shelter and light",
        ));
    }
    grower(site)?;
    let mut areas: Vec<CheckedArea> = Vec::new();
    for (i, a) in site.areas.iter().enumerate() {
        let pointer = format!("/site/areas/{i}");
        if areas.iter().any(|other| other.id == a.id) {
            return Err(RequestError::value(
                format!("{pointer}/id"),
                format!("the id {:?} stands twice", a.id),
                "give every area an id of its own",
            ));
        }
        if let Some(v) = a.air_m_s {
            in_range(format!("{pointer}/air_m_s"), v, 0.0, 30.0, "m/s")?;
        }
        areas.push(CheckedArea {
            id: a.id.clone(),
            description: a.clone(),
            site: Site {
                place: place.clone(),
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
            let at = |f: &str| format!("/site/grower/working_hours/{i}/{f}");
            Ok((moment::hour(&at("from"), &w.from)?, moment::hour(&at("to"), &w.to)?))
        })
        .collect::<Result<_, RequestError>>()?;
    Ok(CheckedSite { zone: place.zone().clone(), areas, working })
}

fn grower(site: &SiteDescription) -> Result<(), RequestError> {
    let g = &site.grower;
    let check = |field: &str, v: Option<f64>, low, high, unit| match v {
        Some(v) => in_range(format!("/site/grower/{field}"), v, low, high, unit),
        None => Ok(()),
    };
    check("mister_ml", g.mister_ml, 50.0, 20_000.0, "mL")?;
    check("scale_g", g.scale_g, 0.001, 100.0, "g")?;
    check("tolerance", g.tolerance, 0.01, 0.5, "")?;
    check("residue_threshold_g_m2", g.residue_threshold_g_m2, 1e-4, 10.0, "g/m²")?;
    check("residue_threshold_log_sd", g.residue_threshold_log_sd, 0.01, 3.0, "")?;
    let stray = [
        ("residue_threshold_log_sd", g.residue_threshold_log_sd.is_some()),
        ("residue_threshold_looks", g.residue_threshold_looks.is_some()),
    ];
    match stray.into_iter().find(|(_, given)| *given && g.residue_threshold_g_m2.is_none()) {
        None => Ok(()),
        Some((field, _)) => Err(RequestError::value(
            format!("/site/grower/{field}"),
            "it says something of a residue threshold that is not given",
            "give residue_threshold_g_m2 too, or leave it out",
        )),
    }
}

fn light(a: &AreaDescription, pointer: &str) -> Result<Light, RequestError> {
    let lamps = a.lamps.iter().enumerate().try_fold(None, |lamps: Option<Lamps>, (i, run)| {
        let at = |f: &str| format!("{pointer}/lamps/{i}/{f}");
        let (on, off) = (moment::hour(&at("on"), &run.on)?, moment::hour(&at("off"), &run.off)?);
        let joined = match lamps {
            None => Lamps::between(on, off),
            Some(l) => l.and_between(on, off),
        };
        joined.map(Some).map_err(|e| RequestError::value(at("on"), e.to_string(), "see above"))
    })?;
    match (a.light, lamps) {
        (LightKind::Sun, None) => Ok(Light::Sun),
        (LightKind::Sun, Some(_)) => Err(RequestError::value(
            format!("{pointer}/lamps"),
            "lamp hours are given for an area lit by the sun",
            "set light = \"sun_and_lamps\" or \"lamps\", or leave the lamps out",
        )),
        (LightKind::Lamps, Some(l)) => Ok(Light::Lamps(l)),
        (LightKind::SunAndLamps, Some(l)) => Ok(Light::SunAndLamps(l)),
        (_, None) => Err(RequestError::value(
            format!("{pointer}/lamps"),
            "the area has lamps and no lamp hours",
            "give at least one `on` and `off`",
        )),
    }
}

impl CheckedSite {
    pub(crate) fn area(&self, id: &str) -> Option<(usize, &CheckedArea)> {
        self.areas.iter().enumerate().find(|(_, a)| a.id == id)
    }

    pub(crate) fn known_areas(&self) -> String {
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
