//! From advice to a plan: groups, sittings, one bucket, mister fills.

use super::answer::{
    Alone, Bucket, PlantRef, RoundGroup, RoundPlant, RoundResponse, RoundStep, Sitting,
};
use super::bucket::FeedInWater;
use super::fills::{Mister, Step};
use super::group::{Cluster, Group, Member, Strength, clusters};
use super::{shared, volume};
use crate::advise::advise;
use crate::answer::{AdviceResponse, PlantAdvice, Verdict};
use crate::error::below;
use crate::moment::rfc3339;
use crate::reason::{Draft, Reason, Unknown};
use crate::reason_code::ReasonCode;
use crate::request::{AdviceRequest, PlantEntry};
use crate::site::{self, CheckedSite};
use guardcell_clock::{LightHours, LightKind, light_hours};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice as p;
use guardcell_solution::Bounds;
use guardcell_units::quantity::{Volume, mg_per_l};
use guardcell_units::uom::si::volume::milliliter;
use jiff::{SignedDuration, Timestamp};

/// Plans the round of a collection: what [`advise`] says of each plant, put into one bucket, the
/// fewest sittings and a sequence of mister fills.
///
/// # Errors
/// As [`advise`]; also where no feed is given, since a bucket needs a product.
pub fn round(request: &AdviceRequest) -> Result<RoundResponse, Error> {
    let Some(feed) = &request.feed else {
        return Err(Error::new(
            Code::Missing,
            "a round needs a product to mix",
            "give the label of the feed",
        )
        .at("/feed"));
    };
    let advice = advise(request)?;
    let brew = FeedInWater { feed, water: request.water.as_ref() };
    let pairs: Vec<(&PlantEntry, &PlantAdvice)> =
        request.plants.iter().zip(&advice.plants).collect();
    let members: Vec<Member<'_>> = pairs
        .iter()
        .filter(|(_, a)| matches!(a.verdict, Verdict::Feed | Verdict::WaterOnly))
        .filter_map(|(entry, advice)| Member::new(entry, advice))
        .collect();
    let clusters = clusters(members);
    let site = site::checked(&request.site).map_err(|e| e.within("/site"))?;
    let sheet = Sheet { request, site: &site, brew, clusters: &clusters };
    let strongest = sheet.strongest();
    let (sittings, feed_ml) = sheet.sittings(strongest)?;
    let bucket = if strongest > 0.0 { Some(sheet.bucket(strongest, feed_ml)?) } else { None };
    let mut cautions = advice.cautions.clone();
    cautions.push(Draft::new(ReasonCode::TimingInferred).done());
    if let Some(b) = &bucket {
        cautions.extend(bucket_cautions(b));
    }
    Ok(RoundResponse {
        site: advice.site.clone(),
        from: advice.from.clone(),
        to: advice.to.clone(),
        bucket,
        sittings,
        alone: alone(&pairs),
        cautions,
        unknowns: unknowns(&advice),
        sources: advice.sources,
    })
}

struct Sheet<'a> {
    request: &'a AdviceRequest,
    site: &'a CheckedSite,
    brew: FeedInWater<'a>,
    clusters: &'a [Cluster<'a>],
}

impl Sheet<'_> {
    fn strongest(&self) -> f64 {
        self.clusters
            .iter()
            .flat_map(|c| &c.members)
            .map(|m| m.window.feed_strength_mg_l)
            .fold(0.0, f64::max)
    }

    /// Every sitting with its fills, and the feed all fills take from the bucket.
    fn sittings(&self, bucket_mg_l: f64) -> Result<(Vec<Sitting>, f64), Error> {
        let capacity = self.request.site.grower.mister_ml.unwrap_or(p::MISTER_DEFAULT.value);
        let ml = Volume::new::<milliliter>;
        let mut feed_ml = 0.0;
        let mut sittings = Vec::new();
        for cluster in self.clusters {
            // Each sitting starts with an empty mister: what was left hours ago has been emptied.
            let mut mister = Mister::empty(ml(capacity), ml(p::MISTER_MARK.value));
            let mut steps = Vec::new();
            for strength in cluster.strengths() {
                let step = self.step(&strength, bucket_mg_l, &mut mister)?;
                feed_ml += step.fills.iter().map(|f| f.feed_ml).sum::<f64>();
                steps.push(step);
            }
            let (left, strength) = mister.left();
            sittings.push(Sitting {
                start: self.local(cluster.span.start),
                end: self.local(cluster.span.end),
                part_of_day: self.part_of_day(cluster)?.to_owned(),
                steps,
                left_over_ml: left.get::<milliliter>().round(),
                left_over_mg_l: guardcell_units::quantity::in_mg_per_l(strength).round(),
            });
        }
        Ok((sittings, feed_ml))
    }

    fn step(
        &self,
        strength: &Strength<'_>,
        bucket_mg_l: f64,
        mister: &mut Mister,
    ) -> Result<RoundStep, Error> {
        let spray_ml = strength
            .groups
            .iter()
            .flat_map(|g| &g.members)
            .map(|m| volume::one_pass_ml(m.entry) * f64::from(strength.passes))
            .sum::<f64>();
        let fills = mister.fill(
            mg_per_l(bucket_mg_l),
            Step { strength: mg_per_l(strength.mg_l), volume: Volume::new::<milliliter>(spray_ml) },
        );
        let (n_mg_l, ec25_us_cm) = self.reads(strength.mg_l)?;
        Ok(RoundStep {
            feed_strength_mg_l: strength.mg_l,
            n_mg_l,
            ec25_us_cm,
            passes: strength.passes,
            spray_ml: spray_ml.round(),
            fills,
            groups: strength.groups.iter().filter_map(|g| self.group(g)).collect(),
        })
    }

    /// A group in words; none where nobody is in it.
    fn group(&self, group: &Group<'_>) -> Option<RoundGroup> {
        let worst = group
            .members
            .iter()
            .max_by(|a, b| a.window.residue_probability.total_cmp(&b.window.residue_probability));
        let (Some(first), Some(worst)) = (group.members.first(), worst) else { return None };
        Some(RoundGroup {
            group: group.words(),
            area: group.area().to_owned(),
            plants: group.members.iter().map(round_plant).collect(),
            verdict: first.advice.verdict,
            start: self.local(group.span.start),
            end: self.local(group.span.end),
            residue_probability: worst.window.residue_probability,
            modelled: worst.window.modelled,
            dry_minutes: first.window.dry_minutes,
            driest_rh_percent: first.window.driest_rh_percent,
            driest_at: first.window.driest_at.clone(),
            reasons: shared::reasons(group),
            runner_up: first.advice.windows.iter().find(|w| *w != first.window).cloned(),
        })
    }

    /// Nitrogen and meter reading at a strength in this water.
    fn reads(&self, strength_mg_l: f64) -> Result<(f64, Bounds), Error> {
        if strength_mg_l > 0.0 {
            let r = self.brew.recipe(strength_mg_l, 1.0, None)?;
            return Ok((r.profile_mg_l.get("n").map_or(0.0, |e| e.from_products), r.ec25_us_cm));
        }
        let r = self.brew.recipe(1.0, 1.0, None)?;
        let water = r.water_ec25_us_cm;
        Ok((0.0, Bounds { low: water, value: Some(water), high: water }))
    }

    /// The bucket: what the fills take, with the spare of the practice table.
    fn bucket(&self, strength_mg_l: f64, feed_ml: f64) -> Result<Bucket, Error> {
        let litres = feed_ml / 1000.0 * (1.0 + p::BUCKET_SPARE.value);
        self.brew.bucket(strength_mg_l, litres, self.request.site.grower.scale_g)
    }

    fn local(&self, t: Timestamp) -> String {
        rfc3339(&self.site.local(t))
    }

    /// The part of the day of a sitting, by the sun where any of its plants sees it, else by the
    /// lamps.
    fn part_of_day(&self, cluster: &Cluster<'_>) -> Result<&'static str, Error> {
        let areas = cluster.members.iter().filter_map(|m| self.site.area(&m.entry.area));
        let by_lamps = |a: &site::CheckedArea| a.description.light == LightKind::Lamps;
        let Some((_, area)) = areas.min_by_key(|(i, a)| (by_lamps(a), *i)) else {
            return Ok("day");
        };
        let day = SignedDuration::from_hours(24);
        let (start, end) = (cluster.span.start, cluster.span.end);
        let from = start.saturating_sub(day).unwrap_or(start);
        let to = end.saturating_add(day).unwrap_or(end);
        let light = light_hours(&area.site, from, to).map_err(|e| below("/site", e))?;
        let middle = start.saturating_add(end.duration_since(start) / 2).unwrap_or(start);
        Ok(part_of_day(middle, &light, by_lamps(area)))
    }
}

fn part_of_day(middle: Timestamp, light: &LightHours, lamps: bool) -> &'static str {
    let hours = |a: Timestamp, b: Timestamp| b.duration_since(a).as_secs_f64() / 3600.0;
    let around = |spans: Vec<guardcell_clock::Span>| {
        spans.into_iter().find_map(|s| {
            let (start, end) = (s.start.timestamp(), s.end.timestamp());
            (start <= middle && middle < end).then(|| (hours(start, middle), hours(middle, end)))
        })
    };
    if let Some((since, until)) = around(light.lit()) {
        return match since / (since + until) {
            _ if lamps => "lights-on",
            share if share < p::MORNING_SHARE.value => "morning",
            share if share > p::LATE_AFTERNOON_SHARE.value => "late-afternoon",
            _ => "day",
        };
    }
    match (around(light.dark()), lamps) {
        (Some((since, until)), false) if until < since => "before-dawn",
        (Some((since, until)), true) if until < since => "before-lights-on",
        (_, false) => "evening",
        (_, true) => "after-lights-off",
    }
}

fn round_plant(m: &Member<'_>) -> RoundPlant {
    let spray_ml = volume::one_pass_ml(m.entry) * f64::from(m.window.passes);
    RoundPlant {
        id: m.entry.id.clone(),
        name: m.entry.name.clone(),
        spray_ml: (spray_ml * 10.0).round() / 10.0,
    }
}

fn plant_ref(entry: &PlantEntry) -> PlantRef {
    PlantRef { id: entry.id.clone(), name: entry.name.clone() }
}

/// Who gets nothing now, by reason.
fn alone(pairs: &[(&PlantEntry, &PlantAdvice)]) -> Vec<Alone> {
    let mut out: Vec<Alone> = Vec::new();
    for (entry, advice) in pairs {
        if matches!(advice.verdict, Verdict::Feed | Verdict::WaterOnly)
            && !advice.windows.is_empty()
        {
            continue;
        }
        let Some(reason) = advice.reasons.first() else { continue };
        let help: Vec<String> = advice.changes.iter().map(|c| c.message.clone()).collect();
        let home = out.iter_mut().find(|a| {
            a.verdict == advice.verdict
                && a.reason.code == reason.code
                && a.reason.message == reason.message
                && a.changes == help
        });
        match home {
            Some(a) => a.plants.push(plant_ref(entry)),
            None => out.push(Alone {
                verdict: advice.verdict,
                reason: reason.clone(),
                plants: vec![plant_ref(entry)],
                changes: help,
            }),
        }
    }
    out
}

fn bucket_cautions(b: &Bucket) -> Vec<Reason> {
    let mut out = vec![
        Reason::new(
            ReasonCode::OneBucket,
            format!(
                "Mix the bucket once, keep it covered and cool, and use it within {:.0} hours.",
                b.keeps_hours
            ),
        )
        .with("keeps_hours", b.keeps_hours)
        .with_parameter(p::BUCKET_KEEPS),
    ];
    if b.urea_n_mg_l > 0.0 {
        out.push(
            Reason::new(
                ReasonCode::UreaUnseen,
                format!(
                    "{:.0} of the {:.0} mg/L N is urea, which carries no charge: a meter does not \
                     see it, so do not set the strength of this feed by meter alone.",
                    b.urea_n_mg_l, b.n_mg_l
                ),
            )
            .with("urea_n_mg_l", b.urea_n_mg_l)
            .with("n_mg_l", b.n_mg_l),
        );
    }
    out
}

/// Plants named one by one; more are counted.
const MOST_LISTED: usize = 8;

/// What is not known of the plants, each once, with how many plants it touches.
fn unknowns(advice: &AdviceResponse) -> Vec<Unknown> {
    let mut out: Vec<(Unknown, Vec<&str>)> = Vec::new();
    for plant in &advice.plants {
        for u in &plant.unknowns {
            let home = out.iter_mut().find(|(o, _)| {
                o.what == u.what && o.assumed == u.assumed && o.measure == u.measure
            });
            match home {
                Some((o, ids)) => {
                    o.spread = o.spread.max(u.spread);
                    ids.push(&plant.id);
                }
                None => out.push((u.clone(), vec![&plant.id])),
            }
        }
    }
    out.sort_by(|a, b| b.0.spread.total_cmp(&a.0.spread));
    out.into_iter()
        .map(|(mut u, ids)| {
            let listed = if ids.len() > MOST_LISTED {
                format!("{} of {} plants", ids.len(), advice.plants.len())
            } else {
                ids.join(", ")
            };
            u.what = format!("{} ({listed})", u.what);
            u
        })
        .collect()
}
