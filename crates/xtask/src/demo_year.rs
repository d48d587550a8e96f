//! `demo year`: `demo-data/a-year-at-fernhollow.md`, the advice of each month for the Fernhollow
//! Conservatory, in short.

use crate::Generated;
use guardcell::advice::{
    AdviceRequest, AdviceResponse, PlantAdvice, PlantEntry, Reading, SiteDescription, Verdict,
    advise, round,
};
use guardcell::solution::{Label, WaterReport};
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

/// The days looked at: the 21st of each month, solstices and equinoxes among them.
const DAY: i8 = 21;

pub(crate) fn made(root: &Path) -> Result<Vec<Generated>, Box<dyn Error>> {
    let text = report(&root.join("demo-data"))?;
    Ok(vec![("demo-data/a-year-at-fernhollow.md", text.into_bytes())])
}

/// What the demo data says of the conservatory and its year.
pub(crate) struct Fernhollow {
    site: SiteDescription,
    water: WaterReport,
    feed: Label,
    pub(crate) plants: Vec<PlantEntry>,
    year: Vec<Reading>,
}

impl Fernhollow {
    /// Reads it from the folder of the demo data.
    pub(crate) fn read(data: &Path) -> Result<Self, Box<dyn Error>> {
        let label = std::fs::read_to_string(data.join("labels/fernhollow-mist-15-5-15.toml"))?;
        Ok(Self {
            site: toml::from_str(&std::fs::read_to_string(data.join("site.toml"))?)?,
            water: WaterReport::from_toml(&std::fs::read_to_string(data.join("water.toml"))?)?,
            feed: Label::from_toml(&label)?.into_iter().next().ok_or("no label")?,
            plants: csv::ReaderBuilder::new()
                .trim(csv::Trim::All)
                .from_path(data.join("collection.csv"))?
                .deserialize()
                .collect::<Result<_, _>>()?,
            year: csv::Reader::from_path(data.join("conditions.csv"))?
                .deserialize()
                .collect::<Result<_, _>>()?,
        })
    }

    /// What is asked for plants from noon of a day of the year on, for 36 hours.
    pub(crate) fn request(
        &self,
        day: Date,
        plants: Vec<PlantEntry>,
    ) -> Result<AdviceRequest, Box<dyn Error>> {
        Ok(AdviceRequest::new(self.site.clone(), self.readings_near(day)?, plants, day.to_string())
            .with_feed(self.feed.clone())
            .with_water(self.water.clone()))
    }

    /// The readings of the days around a day: all that 36 hours can need.
    fn readings_near(&self, day: Date) -> Result<Vec<Reading>, Box<dyn Error>> {
        let mut days = Vec::new();
        for offset in -1..=3 {
            days.push(day.checked_add(jiff::Span::new().days(offset))?.to_string());
        }
        let near = |r: &&Reading| days.iter().any(|d| r.time.starts_with(d));
        Ok(self.year.iter().filter(near).cloned().collect())
    }
}

/// The report as text.
pub(crate) fn report(data: &Path) -> Result<String, Box<dyn Error>> {
    let demo = Fernhollow::read(data)?;
    let mut out = String::from(HEAD);
    for month in 1..=12_u8 {
        let day = Date::new(2026, month.try_into()?, DAY)?;
        let request = demo.request(day, demo.plants.clone())?;
        let advice = advise(&request)?;
        let plan = round(&request)?;
        writeln!(out, "\n## {}\n", month_name(month))?;
        writeln!(out, "{}\n", air_of(&request))?;
        verdicts(&mut out, &advice)?;
        match &plan.bucket {
            Some(b) => writeln!(
                out,
                "- bucket: {:.0} mg/L feed ({:.0} ppm N), {} L; {}",
                b.feed_strength_mg_l,
                b.n_mg_l,
                b.water_l,
                sittings(&plan)
            )?,
            None => writeln!(out, "- no bucket")?,
        }
        waits(&mut out, &plan)?;
    }
    Ok(out)
}

const HEAD: &str = "# A year at Fernhollow\n\n\
What guardcell says on the 21st of each month for the invented Fernhollow Conservatory, from noon \
for 36 hours. Made by `cargo xtask demo year` from `demo-data/`; the numbers are the program's, the \
air is invented (`cargo xtask demo conditions`). The times are local. Every plant is taken as due: \
the journal, which would know when each was fed, is not used here.\n";

fn month_name(month: u8) -> &'static str {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    NAMES.get(usize::from(month) - 1).copied().unwrap_or("?")
}

/// The range of the air of each area.
fn air_of(request: &AdviceRequest) -> String {
    let mut parts = Vec::new();
    for area in &request.site.areas {
        let of: Vec<&Reading> = request
            .readings
            .iter()
            .filter(|r| r.area.as_deref() == Some(area.id.as_str()))
            .collect();
        let range = |f: fn(&Reading) -> f64| {
            of.iter()
                .map(|r| f(r))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)))
        };
        let (cold, warm) = range(|r| r.temp_c);
        let (dry, humid) = range(|r| r.rh_percent);
        parts.push(format!("{} {cold:.0} to {warm:.0} °C, {dry:.0} to {humid:.0} %", area.name));
    }
    format!("{}.", parts.join("; "))
}

fn verdicts(out: &mut String, advice: &AdviceResponse) -> Result<(), std::fmt::Error> {
    let mut counts: BTreeMap<Verdict, Vec<&PlantAdvice>> = BTreeMap::new();
    for p in &advice.plants {
        counts.entry(p.verdict).or_default().push(p);
    }
    let words: Vec<String> =
        counts.iter().map(|(v, p)| format!("{} {}", p.len(), v.word())).collect();
    writeln!(out, "- of {} plants: {}", advice.plants.len(), words.join(", "))
}

fn sittings(plan: &guardcell::advice::round::RoundResponse) -> String {
    let words: Vec<String> = plan
        .sittings
        .iter()
        .map(|s| {
            let plants: usize =
                s.steps.iter().flat_map(|x| &x.groups).map(|g| g.plants.len()).sum();
            let strengths: Vec<String> = s
                .steps
                .iter()
                .map(|x| {
                    if x.feed_strength_mg_l > 0.0 {
                        let passes = if x.passes > 1 {
                            format!(" in {} passes", x.passes)
                        } else {
                            String::new()
                        };
                        format!("{:.0} mg/L{passes}", x.feed_strength_mg_l)
                    } else {
                        "plain water".to_owned()
                    }
                })
                .collect();
            format!(
                "{} {} to {}: {plants} {} at {}",
                s.part_of_day.replace('-', " "),
                clock(&s.start),
                clock(&s.end),
                if plants == 1 { "plant" } else { "plants" },
                strengths.join(", ")
            )
        })
        .collect();
    words.join("; ")
}

/// `05:00` of an RFC 3339 time.
fn clock(text: &str) -> &str {
    text.get(11..16).unwrap_or(text)
}

fn waits(
    out: &mut String,
    plan: &guardcell::advice::round::RoundResponse,
) -> Result<(), std::fmt::Error> {
    for a in &plan.alone {
        let names: Vec<&str> = a.plants.iter().map(|p| p.name.as_str()).collect();
        let shown = names.get(..4).map_or_else(
            || names.join(", "),
            |first| {
                if names.len() > 4 {
                    format!("{} and {} more", first.join(", "), names.len() - 4)
                } else {
                    names.join(", ")
                }
            },
        );
        let help = if a.changes.is_empty() {
            String::new()
        } else {
            format!(" Instead: {}", a.changes.join(" Or: "))
        };
        writeln!(out, "- {} ({shown}): {}{help}", a.verdict.word(), a.reason.message)?;
    }
    Ok(())
}
