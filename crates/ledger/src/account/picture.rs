//! The ledger as text and as a picture.

use super::answer::{Ledger, PlantLedger, PlantWeek};
use crate::entry::Level;
use crate::figure::three;
use crate::pen;
use guardcell_advice::svg::Svg;
use std::fmt::Write as _;

const ROW: f64 = 92.0;
const BARS: f64 = 52.0;
const LEFT: f64 = 70.0;
const TOP: f64 = 64.0;

impl Ledger {
    /// What it says, for a terminal and for those who cannot see the picture.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{LedgerRequest, ledger};
    /// let request = LedgerRequest::new(vec![], "2026-06-21T18:00:00Z");
    /// assert!(ledger(&request).unwrap().to_text().starts_with("Ledger from 2026-06-21"));
    /// ```
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut t = format!("Ledger from {} to {}\n", self.from, self.at);
        for plant in &self.plants {
            // Writing to a string cannot fail.
            let _ = writeln!(t, "\n{}", plant.title());
            for line in facts(plant) {
                let _ = writeln!(t, "  {line}");
            }
            let _ = writeln!(t, "  week      leaf mg  root mg     N mg  ceiling  residue");
            for w in &plant.weeks {
                let _ = writeln!(t, "  {}", row(w));
            }
            for w in &plant.warnings {
                let _ = writeln!(t, "  ! {}", w.message);
            }
        }
        for a in &self.assumed {
            let _ = writeln!(t, "\n{} ({})", a.message, a.sources.join(", "));
        }
        t
    }

    /// The picture: for each plant a bar a week, leaf white below, root black above, the ceiling
    /// dashed, flushes and residue marked by shape.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{LedgerRequest, ledger};
    /// let request = LedgerRequest::new(vec![], "2026-06-21T18:00:00Z");
    /// assert!(ledger(&request).unwrap().to_svg().contains("<desc"));
    /// ```
    #[must_use]
    pub fn to_svg(&self) -> String {
        let weeks = self.plants.first().map_or(0, |p| p.weeks.len());
        let step = (640.0 / weeks.max(1) as f64).clamp(9.0, 40.0);
        let width = (LEFT + step * weeks as f64 + 20.0).max(720.0);
        let mut svg = Svg::new(width, TOP + ROW * self.plants.len() as f64 + 20.0);
        svg.text((10.0, 24.0), pen::TITLE, &format!("Feed by week, {} to {}", self.from, self.at));
        legend(&mut svg);
        for (i, plant) in self.plants.iter().enumerate() {
            draw(&mut svg, plant, TOP + ROW * i as f64, step);
        }
        svg.finish("Feed of each plant by week", &self.to_text())
    }
}

fn facts(plant: &PlantLedger) -> Vec<String> {
    let mut out = Vec::new();
    if let (Some(last), Some(days)) = (&plant.last_fed, plant.days_since_fed) {
        let due = plant.next_due.as_ref().map_or_else(String::new, |d| format!("; next due {d}"));
        out.push(format!("last fed {last}, {days} days ago{due}"));
    }
    if let (Some(last), Some(days)) = (&plant.last_flush, plant.days_since_flush) {
        out.push(format!("last flush {last}, {days} days ago"));
    }
    if let Some(due) = &plant.flush_due {
        out.push(format!("next flush due {due}"));
    }
    let mut salts = format!(
        "{} mg given, {} mg since the last flush, {} mg measured in the drain",
        three(plant.given_mg),
        three(plant.given_since_flush_mg),
        three(plant.drained_mg)
    );
    if plant.flushes_not_measured > 0 {
        let _ = write!(salts, " ({} flushes not measured)", plant.flushes_not_measured);
    }
    out.push(salts);
    if let Some(lost) = &plant.lost {
        out.push(format!("lost {lost}"));
    }
    out
}

fn row(w: &PlantWeek) -> String {
    let mut t = format!(
        "{:<9}{:>8}{}{:>8}{}{:>8}{}{:>9}  {}",
        w.week,
        three(w.leaf_mg),
        if w.without_volume > 0 { "+" } else { " " },
        three(w.root_mg),
        if w.root_stated { "*" } else { " " },
        three(w.n_mg),
        if w.without_n > 0 { "+" } else { " " },
        w.ceiling_mg.map_or_else(|| "-".into(), three),
        w.residue.map_or("-", Level::word),
    );
    if w.without_volume > 0 {
        let _ = write!(t, "; {} feeds of unknown volume", w.without_volume);
    }
    if w.soaks > 0 {
        let _ = write!(t, "; {} soaks", w.soaks);
    }
    if w.flushes > 0 {
        let _ = write!(t, "; flushed");
    }
    t
}

const FLUSH: &str = "M-4,-4L4,-4L0,4z";

fn draw(svg: &mut Svg, plant: &PlantLedger, top: f64, step: f64) {
    let floor = top + 20.0 + BARS;
    let most = plant
        .weeks
        .iter()
        .map(|w| w.total_mg().max(w.ceiling_mg.unwrap_or(0.0)))
        .fold(0.0, f64::max)
        .max(f64::MIN_POSITIVE);
    let high = |mg: f64| BARS * mg / most;
    svg.text((10.0, top + 12.0), "", &plant.title());
    if most > f64::MIN_POSITIVE {
        svg.text(
            (LEFT - 8.0, floor - BARS + 10.0),
            pen::RIGHT_ALIGNED,
            &format!("{} mg", three(most)),
        );
    }
    for (i, w) in plant.weeks.iter().enumerate() {
        let x = LEFT + step * i as f64;
        let says = row(w);
        let (leaf, root) = (high(w.leaf_mg), high(w.root_mg));
        if leaf > 0.0 {
            svg.titled_rect((x + 1.0, floor - leaf), (step - 2.0, leaf), pen::WHITE_BAR, &says);
        }
        if root > 0.0 {
            svg.titled_rect(
                (x + 1.0, floor - leaf - root),
                (step - 2.0, root),
                pen::BLACK_BAR,
                &says,
            );
        }
        let middle = x + step / 2.0;
        if w.flushes > 0 {
            svg.mark(
                (middle, floor + 6.0),
                FLUSH,
                pen::WHITE_MARK,
                &format!("{}: flushed", w.week),
            );
        }
        if let Some(level) = w.residue.filter(|l| *l > Level::None) {
            let says = format!("{}: {} residue", w.week, level.word());
            svg.mark((middle, floor - BARS - 4.0), pen::CROSS, pen::OPEN_MARK, &says);
        }
        // A label where there is room for one.
        if i % (48.0 / step).ceil() as usize == 0 {
            svg.text((x, floor + 20.0), pen::SMALL, &w.week);
        }
    }
    let end = LEFT + step * plant.weeks.len() as f64;
    if let Some(ceiling) = plant.weeks.iter().find_map(|w| w.ceiling_mg) {
        let y = floor - high(ceiling);
        // Seen on black and on white.
        svg.line((LEFT, y), (end, y), pen::HALO);
        svg.line((LEFT, y), (end, y), pen::DASHED);
    }
    svg.line((LEFT, floor), (end, floor), pen::THIN);
}

fn legend(svg: &mut Svg) {
    let y = 40.0;
    svg.titled_rect((10.0, y - 9.0), (12.0, 10.0), pen::WHITE_BAR, "leaf");
    svg.text((27.0, y), pen::TEXT, "leaf");
    svg.titled_rect((65.0, y - 9.0), (12.0, 10.0), pen::BLACK_BAR, "root");
    svg.text((82.0, y), pen::TEXT, "root");
    svg.line((120.0, y - 4.0), (150.0, y - 4.0), pen::DASHED);
    svg.text((156.0, y), pen::TEXT, "ceiling of the pot");
    svg.mark((280.0, y - 4.0), FLUSH, pen::WHITE_MARK, "flush");
    svg.text((290.0, y), pen::TEXT, "flush");
    svg.mark((340.0, y - 4.0), pen::CROSS, pen::OPEN_MARK, "residue");
    svg.text((350.0, y), pen::TEXT, "residue seen");
}
