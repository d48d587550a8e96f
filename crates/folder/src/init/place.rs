//! Where the plants are: coordinates, or a time zone and its principal place.

use crate::fault::answer;
use guardcell::Error;
use jiff::tz::TimeZone;

/// The principal place of each time zone, from `zone.tab` of the IANA time zone database (public
/// domain), rounded to a hundredth of a degree.
const ZONES: &str = include_str!("../../time_zones.csv");

/// A place on earth with its clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Where {
    /// Latitude in degrees, north positive.
    pub latitude_deg: f64,
    /// Longitude in degrees, east positive.
    pub longitude_deg: f64,
    /// IANA time zone.
    pub time_zone: String,
    /// Whether the coordinates are only those of the principal place of the zone.
    pub rough: bool,
}

const HINT: &str = "write coordinates such as \"51.5 -0.1\" (north and east positive), or a time zone such as \
     Europe/London";

/// Reads `51.5 -0.1`, `51.5 N, 0.1 W`, `Europe/London` or `51.5 -0.1 Europe/London`. Coordinates
/// without a zone take `usual`, the zone of the machine, else the zone whose principal place is
/// nearest.
///
/// # Errors
///
/// What is no such place.
///
/// ```
/// let place = guardcell_folder::init::place("51.5 N, 0.1 W", Some("Europe/London"))?;
/// assert_eq!((place.latitude_deg, place.longitude_deg), (51.5, -0.1));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn place(text: &str, usual: Option<&str>) -> Result<Where, Error> {
    let wrong = |detail: String| answer("--place", detail, HINT);
    let words: Vec<&str> =
        text.split([' ', ',', ';', '°', '\t']).filter(|w| !w.is_empty()).collect();
    let zone = words.iter().find(|w| w.contains('/') || w.eq_ignore_ascii_case("UTC"));
    let mut numbers: Vec<f64> = Vec::new();
    for word in words.iter().filter(|w| Some(*w) != zone) {
        let (number, side) = match word.char_indices().next_back() {
            Some((i, c)) if c.is_ascii_alphabetic() => (word.get(..i).unwrap_or(""), Some(c)),
            _ => (*word, None),
        };
        if !number.is_empty() {
            let value: f64 = number
                .parse()
                .ok()
                .filter(|v: &f64| v.is_finite())
                .ok_or_else(|| wrong(format!("{word:?} is not a coordinate")))?;
            numbers.push(value);
        }
        match (side.map(|c| c.to_ascii_uppercase()), numbers.last_mut()) {
            (None | Some('N' | 'E'), _) => {}
            (Some('S' | 'W'), Some(last)) => *last = -last.abs(),
            _ => return Err(wrong(format!("{word:?} is not a coordinate"))),
        }
    }
    match (numbers.as_slice(), zone) {
        ([lat, lon], zone) => {
            let (lat, lon) = (*lat, *lon);
            if lat.abs() > 90.0 || lon.abs() > 180.0 {
                return Err(wrong(format!("{lat} {lon} is not on earth")));
            }
            let time_zone = match zone.copied().or(usual) {
                Some(name) => known(name)?,
                None => nearest(lat, lon),
            };
            Ok(Where { latitude_deg: lat, longitude_deg: lon, time_zone, rough: false })
        }
        ([], Some(name)) => {
            let time_zone = known(name)?;
            let row = zones().find(|(zone, _, _)| *zone == time_zone);
            let (_, latitude_deg, longitude_deg) = row
                .ok_or_else(|| wrong(format!("the principal place of {time_zone} is not known")))?;
            Ok(Where { latitude_deg, longitude_deg, time_zone, rough: true })
        }
        _ => Err(wrong(format!("{text:?} is not a place"))),
    }
}

/// A zone by its name, whatever its capitals.
fn known(name: &str) -> Result<String, Error> {
    let listed = zones().find(|(zone, _, _)| zone.eq_ignore_ascii_case(name));
    match (listed, TimeZone::get(name)) {
        (Some((zone, _, _)), _) => Ok(zone.to_owned()),
        (None, Ok(_)) => Ok(name.to_owned()),
        (None, Err(_)) => Err(answer(
            "--place",
            format!("{name:?} is not a time zone of the IANA database"),
            HINT,
        )),
    }
}

fn zones() -> impl Iterator<Item = (&'static str, f64, f64)> {
    ZONES.lines().skip(1).filter_map(|line| {
        let mut cells = line.split(',');
        Some((cells.next()?, cells.next()?.parse().ok()?, cells.next()?.parse().ok()?))
    })
}

/// The zone whose principal place is nearest on the sphere.
fn nearest(lat: f64, lon: f64) -> String {
    let away = |(_, a, b): &(&str, f64, f64)| {
        let (f, g) = (lat.to_radians(), a.to_radians());
        let cosine = f.sin() * g.sin() + f.cos() * g.cos() * (lon - b).to_radians().cos();
        -cosine
    };
    zones()
        .min_by(|x, y| away(x).total_cmp(&away(y)))
        .map_or_else(|| "UTC".to_owned(), |(zone, _, _)| zone.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_as_people_write_them() {
        for text in ["38.5, -28", "38.5 N 28 W", "38.5N, 28.0W", "38.5° N, 28° W"] {
            let p = place(text, None).unwrap();
            assert_eq!((p.latitude_deg, p.longitude_deg), (38.5, -28.0), "{text}");
            assert_eq!(p.time_zone, "Atlantic/Azores", "{text}: Ponta Delgada is nearest");
        }
        let p = place("europe/london", Some("Asia/Tokyo")).unwrap();
        // zone.tab of the IANA database: +513030-0000731.
        assert!((p.latitude_deg - 51.51).abs() < 0.01 && (p.longitude_deg + 0.13).abs() < 0.01);
        assert!(p.rough && p.time_zone == "Europe/London");
        let p = place("48.1 11.6 Europe/Berlin", Some("Asia/Tokyo")).unwrap();
        assert!(!p.rough && p.time_zone == "Europe/Berlin");
        assert_eq!(place("48.1 11.6", Some("Asia/Tokyo")).unwrap().time_zone, "Asia/Tokyo");
    }

    #[test]
    fn what_is_no_place() {
        for text in ["", "here", "91 0", "0 181", "51.5", "Europe/Nowhere", "1 2 3", "N S", "nan 1"]
        {
            assert!(place(text, None).is_err(), "{text}");
        }
    }

    #[test]
    fn every_principal_place_is_in_its_table() {
        assert!(zones().count() > 400);
        assert_eq!(zones().count(), ZONES.lines().count() - 1);
        for (zone, lat, lon) in zones() {
            assert!(lat.abs() <= 90.0 && lon.abs() <= 180.0, "{zone}");
        }
    }
}
