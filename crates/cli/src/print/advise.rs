//! Advice on each plant, as text.

use crate::print::{Out, short, text};
use guardcell::advice::{AdviceResponse, PlantAdvice, Reason, Verdict, Window};
use guardcell_folder::Turn;

pub(crate) fn print(advice: &AdviceResponse, turn: Option<&Turn>, out: &mut Out) {
    out.line(format!("{}, {}", advice.site, text::span(&advice.from, &advice.to)));
    if let Some(turn) = turn {
        out.item("Feed: ", &short::turn(turn));
    }
    for plant in &advice.plants {
        out.line("");
        one(plant, out);
    }
    if !advice.cautions.is_empty() {
        out.line("");
        out.line("CAUTIONS");
        for c in &advice.cautions {
            out.item("  - ", &c.message);
        }
    }
    sources(advice, out);
}

fn one(p: &PlantAdvice, out: &mut Out) {
    out.line(format!("{} {}: {}", p.id, p.name, p.verdict.word()));
    for (i, w) in p.windows.iter().enumerate() {
        let name = if i == 0 { "  best      " } else { "  runner-up " };
        out.item(name, &window(w));
    }
    if p.verdict == Verdict::Feed {
        out.line(format!("  again     after {} d at the earliest", p.interval_days));
    }
    if let Some(weekly) = &p.weekly {
        let root = weekly.root_mg.map_or("not stated".to_owned(), |m| format!("{m:.0} mg"));
        let ceiling = weekly
            .ceiling_mg
            .map_or("no pot volume stated".to_owned(), |m| format!("ceiling {m:.0} mg"));
        out.line(format!("  a week    leaf {:.0} mg, root {root}, {ceiling}", weekly.leaf_mg));
    }
    for r in &p.reasons {
        out.item("  why       ", &reason(r));
    }
    for u in &p.unknowns {
        out.item(
            "  unknown   ",
            &format!(
                "{}; taken as {} (moves a probability by up to {:.0} percentage points). To know: {}.",
                u.what,
                u.assumed,
                u.spread * 100.0,
                u.measure
            ),
        );
    }
    for n in &p.near_limits {
        out.item("  near      ", &n.message);
    }
    for c in &p.changes {
        out.item("  instead   ", &c.message);
    }
}

/// One window: when, how strong, what it leaves, what it costs.
pub(crate) fn window(w: &Window) -> String {
    let dry =
        w.dry_minutes.map_or("stays wet".to_owned(), |m| format!("dry after {}", text::minutes(m)));
    let feed = if w.feed_strength_mg_l > 0.0 {
        format!(
            "{:.0} mg/L feed, {}",
            w.feed_strength_mg_l,
            text::count(usize::from(w.passes), "pass", "passes")
        )
    } else {
        "plain water".into()
    };
    let costs = if w.costs.is_empty() { String::new() } else { format!("; costs: {}", w.costs) };
    format!(
        "{}; {feed}; residue {}; {dry}{costs}",
        text::span(&w.start, &w.end),
        text::chance(w.residue_probability)
    )
}

fn reason(r: &Reason) -> String {
    if r.sources.is_empty() {
        r.message.clone()
    } else {
        format!("{} [{}]", r.message, r.sources.join("; "))
    }
}

fn sources(advice: &AdviceResponse, out: &mut Out) {
    if advice.sources.is_empty() {
        return;
    }
    out.line("");
    out.line("SOURCES");
    for s in &advice.sources {
        out.item("  - ", &format!("[{}] {} (read: {})", s.key, s.work, s.read));
    }
}
