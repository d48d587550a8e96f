//! The sheet of a round.

mod left;
mod walk;

use crate::print::advise::window;
use crate::print::{Out, bucket, short, text};
use guardcell::advice::round::{
    Alone, Bucket, Fill, RoundGroup, RoundResponse, RoundStep, Sitting, Stock,
};
use guardcell::advice::{AdviceRequest, ReasonCode};
use guardcell::clock::Code as ClockCode;
use guardcell_folder::Turn;

/// How much is said.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Detail {
    /// The reasons of each group, the second-best hour, what is not known.
    pub(crate) why: bool,
    /// The works that the reasons rest on.
    pub(crate) sources: bool,
}

pub(crate) fn print(
    plan: &RoundResponse,
    request: &AdviceRequest,
    (turn, detail): (Option<&Turn>, Detail),
    out: &mut Out,
) {
    out.item("", &format!("{}: the round for {}", plan.site, text::span(&plan.from, &plan.to)));
    if let Some(turn) = turn {
        out.part("FEED    ", &short::turn(turn));
    }
    out.line("");
    match &plan.bucket {
        Some(b) => bucket(b, true, out),
        None if request.plain_water => out.headed("BUCKET", "  plain water: nothing to weigh."),
        None => out.headed("BUCKET", "  no bucket: no plant is fed in this time."),
    }
    for s in &plan.sittings {
        out.line("");
        if s.bucket.is_some() && !detail.why {
            later(s, out);
        } else {
            sitting(s, request, detail, out);
        }
    }
    if !plan.alone.is_empty() {
        out.line("");
        out.headed("LEFT ALONE", "");
        if detail.why {
            for a in &plan.alone {
                alone(a, out);
            }
        } else {
            left::print(&plan.alone, out);
        }
    }
    if detail.why {
        unknowns(plan, out);
    }
    cautions(plan, detail, out);
    if detail.sources && !plan.sources.is_empty() {
        out.line("");
        out.line("SOURCES (each reason names its own with --json or `guardcell advise`)");
        for s in &plan.sources {
            out.item("  - ", &s.work);
        }
    }
    if !detail.why {
        out.line("");
        out.line("Reasons: guardcell round --why. One plant: guardcell advise --plant ID.");
    }
}

/// Cautions that explain and do not warn: they are for who asks why.
const EXPLAIN: [&str; 3] = [
    ReasonCode::TimingInferred.as_str(),
    ReasonCode::OneBucket.as_str(),
    ReasonCode::WalkOrder.as_str(),
];

fn cautions(plan: &RoundResponse, detail: Detail, out: &mut Out) {
    let said: Vec<&str> = plan
        .cautions
        .iter()
        .filter(|c| detail.why || !EXPLAIN.contains(&c.code.as_str()))
        .map(|c| c.message.as_str())
        .collect();
    if said.is_empty() {
        return;
    }
    out.line("");
    out.line("CAUTIONS");
    if detail.why {
        for caution in said {
            out.item("  - ", caution);
        }
    } else {
        out.wrapped("  ", &said.join(" "));
    }
}

fn unknowns(plan: &RoundResponse, out: &mut Out) {
    if plan.unknowns.is_empty() {
        return;
    }
    out.line("");
    out.line("NOT KNOWN, what matters most first");
    for u in plan.unknowns.iter().take(6) {
        out.item(
            "  - ",
            &format!(
                "{}: taken as {}; it moves a probability by up to {:.0} percentage points. To know: {}.",
                u.what,
                u.assumed,
                u.spread * 100.0,
                u.measure
            ),
        );
    }
    if plan.unknowns.len() > 6 {
        out.line(format!("  - and {} more: see --json", plan.unknowns.len() - 6));
    }
}

/// What the stock solution is, and what of it goes into the bucket.
fn stock(s: &Stock, product: &str, out: &mut Out) -> String {
    let keeps = s.keeps_days;
    out.part(
        "STOCK   ",
        &format!("{}; keeps {keeps:.0} days closed, dark and cool", bucket::stock(s, product)),
    );
    format!("draw {} of the stock with a syringe", bucket::drawn(s))
}

fn bucket(b: &Bucket, whole: bool, out: &mut Out) {
    let weigh = match (&b.stock, b.mass_g) {
        (Some(s), _) => stock(s, &b.product, out),
        (None, grams) => {
            let verb = if grams.is_some() { "weigh" } else { "measure" };
            format!("{verb} {}", bucket::amount(grams, b.volume_ml, &b.product))
        }
    };
    let into = if b.stock.is_some() { "and fill up to" } else { "into" };
    let (error, water) = (bucket::error(b), bucket::water(b));
    out.part("BUCKET  ", &format!("{weigh}{error} {into} {water} of water"));
    for beside in bucket::beside(b) {
        out.item("        ", &beside);
    }
    let urea = if b.urea_n_mg_l > 0.0 {
        format!(", of it {} ppm urea N that no meter sees", text::significant(b.urea_n_mg_l, 2))
    } else {
        String::new()
    };
    out.line(format!(
        "        {:.0} mg/L feed = {}{urea}",
        b.feed_strength_mg_l,
        bucket::nitrogen(b)
    ));
    let reads = format!(
        "meter: {} at 25 °C, of which the water alone is {}",
        bucket::meter(&b.ec25_us_cm),
        text::ms_cm(b.water_ec25_us_cm)
    );
    if whole {
        let ppm = format!(
            "; as ppm: {:.0} on the 500 scale, {:.0} on the 640, {:.0} on the 700",
            b.meter_ppm.scale_500.middle(),
            b.meter_ppm.scale_640.middle(),
            b.meter_ppm.scale_700.middle()
        );
        out.item("        ", &(reads + &ppm));
    } else {
        out.item("        ", &reads);
    }
    if let Some(surplus) = &b.surplus {
        out.item("        ", &surplus.reason.message);
    }
}

/// A sitting that needs a bucket of its own is tomorrow's: whoever asks again then has newer air.
fn later(s: &Sitting, out: &mut Out) {
    let ids: Vec<&str> = s
        .steps
        .iter()
        .flat_map(|s| &s.groups)
        .flat_map(|g| &g.plants)
        .map(|p| p.id.as_str())
        .collect();
    out.part(
        "LATER   ",
        &format!(
            "{}, with a fresh bucket, {}: {}. Ask again that day.",
            text::span(&s.start, &s.end),
            text::count(ids.len(), "plant", "plants"),
            ids.join(", ")
        ),
    );
}

fn sitting(s: &Sitting, request: &AdviceRequest, detail: Detail, out: &mut Out) {
    let part = s.part_of_day.replace('-', " ").to_uppercase();
    let when = text::span(&s.start, &s.end);
    out.headed(&part, &format!("  {when}, about {}", text::minutes(s.minutes)));
    for note in &s.notes {
        out.caution("  ! ", if detail.why { &note.message } else { short::words(note) });
    }
    if let Some(fresh) = &s.bucket {
        bucket(fresh, detail.why, out);
    }
    for (i, step) in s.steps.iter().enumerate() {
        self::step(i + 1, step, s, (request, detail), out);
    }
    if s.left_over_ml >= 1.0 {
        out.line(match s.left_over_mg_l {
            v if v > 0.0 => format!(
                "  Left in the mister: {} at {v:.0} mg/L. Pour it away and rinse.",
                text::ml(s.left_over_ml)
            ),
            _ => format!("  Left in the mister: {} of plain water.", text::ml(s.left_over_ml)),
        });
    }
}

fn step(
    n: usize,
    s: &RoundStep,
    sitting: &Sitting,
    (request, detail): (&AdviceRequest, Detail),
    out: &mut Out,
) {
    let what = if s.feed_strength_mg_l > 0.0 {
        format!(
            "{:.0} mg/L ({} ppm N, meter {})",
            s.feed_strength_mg_l,
            text::significant(s.n_mg_l, 2),
            bucket::meter(&s.ec25_us_cm)
        )
    } else {
        "plain water".to_owned()
    };
    let passes = match s.passes {
        0 | 1 => String::new(),
        n => format!(", {n} passes, dry in between"),
    };
    let plants = s.groups.iter().map(|g| g.plants.len()).sum();
    out.item(
        &format!("  {n}. "),
        &format!(
            "{what}{passes}, {} for {}",
            text::ml(s.spray_ml),
            text::count(plants, "plant", "plants")
        ),
    );
    for (i, f) in s.fills.iter().enumerate() {
        out.item("     fill ", &fill(i + 1, f));
    }
    if detail.why {
        for g in &s.groups {
            group(g, request, out);
        }
    } else {
        walk::print(s, sitting, request, out);
    }
}

/// Codes of reasons that the sheet says in another line, or that go without saying there.
const SAID_ELSEWHERE: [&str; 6] = [
    ReasonCode::ResidueAcceptable.as_str(),
    ReasonCode::DriesBeforeUptake.as_str(),
    ReasonCode::StaysWet.as_str(),
    ClockCode::C3LightOpen.as_str(),
    ClockCode::CamNightOpen.as_str(),
    ClockCode::EitherPathway.as_str(),
];

fn group(g: &RoundGroup, request: &AdviceRequest, out: &mut Out) {
    let when = text::span(&g.start, &g.end);
    out.item("     * ", &format!("{}, {when}; {}", walk::place(g, request), g.group));
    for p in &g.plants {
        out.item("       [ ] ", &format!("{} {}", p.id, p.name));
    }
    let dry = g.dry_minutes.map_or("stays moist at first".to_owned(), |m| {
        format!("dry to the touch after {}", text::minutes(m))
    });
    out.item(
        "       then: ",
        &format!(
            "{dry}; driest air after it {:.0} % ({}); visible residue {}",
            g.driest_rh_percent,
            text::time(&g.driest_at),
            text::chance(g.residue_probability)
        ),
    );
    let why: Vec<&str> = g
        .reasons
        .iter()
        .filter(|r| !SAID_ELSEWHERE.contains(&r.code.as_str()))
        .map(|r| r.message.as_str())
        .collect();
    out.item("       why: ", &why.join(" "));
    if let Some(w) = &g.runner_up {
        out.item("       else: ", &window(w));
    }
}

/// Where the level will be, as far as it can be read off a mister.
fn level(eighths: f64) -> String {
    if eighths < READABLE { String::new() } else { format!(" (to {})", text::eighths(eighths)) }
}

/// The lowest level that is read off a mister, in eighths.
const READABLE: f64 = 0.25;

fn fill(n: usize, f: &Fill) -> String {
    let mut parts = Vec::new();
    if f.pour_out_ml > 0.5 {
        parts.push(format!("pour out {}", text::ml(f.pour_out_ml)));
    }
    let left = f.left_in_mister_ml - f.pour_out_ml;
    if left > 0.5 {
        parts.push(format!("{} left", text::ml(left)));
    }
    if f.feed_ml > 0.0 {
        parts.push(format!("{} feed{}", text::ml(f.feed_ml), level(f.feed_to_eighths)));
    }
    if f.top_up_ml > 0.0 {
        parts.push(format!("{} water{}", text::ml(f.top_up_ml), level(f.full_to_eighths)));
    }
    let what = match f.feed_strength_mg_l {
        v if v > 0.0 => format!("{v:.0} mg/L"),
        _ => "plain water".to_owned(),
    };
    format!("{n}: {}: {what}", parts.join(", "))
}

fn alone(a: &Alone, out: &mut Out) {
    let names: Vec<String> = a.plants.iter().map(|p| format!("{} {}", p.id, p.name)).collect();
    out.item("  - ", &format!("{}: {}", a.verdict.word(), names.join(", ")));
    out.wrapped("    ", &a.reason.message);
    for change in &a.changes {
        out.item("    instead: ", change);
    }
}
