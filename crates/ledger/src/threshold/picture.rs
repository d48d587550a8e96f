//! The learned threshold as text and as a picture.

use super::response::{CurvePoint, Evidence, ThresholdResponse};
use super::words;
use crate::entry::Level;
use crate::figure::three;
use crate::pen;
use guardcell_advice::svg::Svg;
use std::fmt::Write as _;

const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 420.0;
const LEFT: f64 = 60.0;
const RIGHT: f64 = 700.0;
const TOP: f64 = 70.0;
const FLOOR: f64 = 300.0;

impl ThresholdResponse {
    /// What it says, for a terminal and for those who cannot see the picture.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{ThresholdRequest, learn_threshold};
    /// let answer = learn_threshold(&ThresholdRequest::default()).unwrap();
    /// assert!(answer.to_text().contains("0 reports"));
    /// ```
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut t = String::new();
        let percent = |p: f64| format!("{:.0} %", p * 100.0);
        // Writing to a string cannot fail.
        let _ = writeln!(t, "Residue threshold of {}", self.of());
        for (name, e) in [("before", self.prior), ("now", self.posterior)] {
            let _ = writeln!(
                t,
                "  {name:<7}{} g/m², {} between {} and {} g/m²",
                three(e.median_g_m2),
                percent(self.interval_share),
                three(e.low_g_m2),
                three(e.high_g_m2)
            );
        }
        let _ = writeln!(t, "{} reports", self.evidence.len());
        for e in &self.evidence {
            let _ = writeln!(t, "  {}", says(e));
        }
        if !self.not_used.is_empty() {
            let _ = writeln!(t, "{} not used", self.not_used.len());
            for n in &self.not_used {
                let _ = writeln!(t, "  {}: {}", n.entry, n.why);
            }
        }
        if let Some(next) = &self.next {
            let _ = writeln!(t, "{}", words::proposal(next));
        }
        for remark in words::remarks(self) {
            let _ = writeln!(t, "{remark}");
        }
        t
    }

    fn of(&self) -> String {
        self.group.as_ref().map_or_else(|| "the site".into(), |g| format!("the group {g}"))
    }

    /// The picture: prior dashed, posterior solid, its interval hatched, one mark for each report
    /// at the residue of its day.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{ThresholdRequest, learn_threshold};
    /// let svg = learn_threshold(&ThresholdRequest::default()).unwrap().to_svg();
    /// assert!(svg.starts_with("<svg") && svg.contains("<desc"));
    /// ```
    #[must_use]
    pub fn to_svg(&self) -> String {
        let mut svg = Svg::new(WIDTH, HEIGHT);
        let (low, high) = self.span();
        let x = |g: f64| {
            let share = (g.ln() - low.ln()) / (high.ln() - low.ln());
            LEFT + (RIGHT - LEFT) * share.clamp(0.0, 1.0)
        };
        let most = self
            .curve
            .iter()
            .map(|p| p.posterior_density.max(p.prior_density))
            .fold(f64::MIN_POSITIVE, f64::max);
        let y = |d: f64| FLOOR - (FLOOR - TOP) * d / most;
        svg.text((LEFT, 26.0), pen::TITLE, &format!("Residue threshold of {}", self.of()));
        let p = self.posterior;
        svg.text(
            (LEFT, 48.0),
            pen::SUBTITLE,
            &format!(
                "{} g/m², {:.0} % between {} and {} g/m²",
                three(p.median_g_m2),
                self.interval_share * 100.0,
                three(p.low_g_m2),
                three(p.high_g_m2)
            ),
        );
        let shown = || self.curve.iter().filter(|c| (low..=high).contains(&c.threshold_g_m2));
        let inside: Vec<(f64, f64)> = shown()
            .filter(|c| (p.low_g_m2..=p.high_g_m2).contains(&c.threshold_g_m2))
            .map(|c| (x(c.threshold_g_m2), y(c.posterior_density)))
            .collect();
        svg.polygon(
            std::iter::once((x(p.low_g_m2), FLOOR))
                .chain(inside)
                .chain(std::iter::once((x(p.high_g_m2), FLOOR))),
            Svg::HATCH,
        );
        svg.polyline(shown().map(|c| (x(c.threshold_g_m2), y(c.prior_density))), pen::DASHED);
        svg.polyline(shown().map(|c| (x(c.threshold_g_m2), y(c.posterior_density))), pen::SOLID);
        svg.line((x(p.median_g_m2), FLOOR), (x(p.median_g_m2), TOP), pen::THIN);
        axis(&mut svg, low, high, &x);
        self.marks(&mut svg, &x);
        legend(&mut svg);
        svg.finish(&format!("Residue threshold of {}", self.of()), &self.to_text())
    }

    /// The part of the axis that holds both distributions and the reports, within reason.
    fn span(&self) -> (f64, f64) {
        let most = |f: fn(&CurvePoint) -> f64| self.curve.iter().map(f).fold(0.0, f64::max);
        let (prior, posterior) = (most(|c| c.prior_density), most(|c| c.posterior_density));
        let seen = self
            .curve
            .iter()
            .filter(|c| c.prior_density > prior * 0.01 || c.posterior_density > posterior * 0.01);
        let (mut low, mut high) = (f64::INFINITY, 0.0_f64);
        for c in seen {
            low = low.min(c.threshold_g_m2);
            high = high.max(c.threshold_g_m2);
        }
        if low < high { (low, high) } else { (0.01, 1.0) }
    }

    /// Reports in rows by level below the axis; those beyond its ends stand at the end.
    fn marks(&self, svg: &mut Svg, x: &impl Fn(f64) -> f64) {
        for (row, level) in Level::ALL.iter().enumerate() {
            let at = FLOOR + 48.0 + row as f64 * 15.0;
            svg.text((LEFT - 8.0, at + 4.0), pen::RIGHT_ALIGNED, level.word());
            svg.line((LEFT, at), (RIGHT, at), pen::THIN);
        }
        for e in &self.evidence {
            let row = Level::ALL.iter().position(|l| *l == e.observation.level).unwrap_or(0);
            let at = FLOOR + 48.0 + row as f64 * 15.0;
            let (shape, style) = shape(e.observation.level);
            let residue = e.observation.whiteness_g_m2().unwrap_or(0.0).max(f64::MIN_POSITIVE);
            svg.mark((x(residue), at), shape, style, &says(e));
        }
    }
}

const CIRCLE: &str = "M-4.5,0a4.5,4.5 0 1,0 9,0a4.5,4.5 0 1,0 -9,0z";
const TRIANGLE: &str = "M0,-5L5,4L-5,4z";
const SQUARE: &str = "M-4.5,-4.5h9v9h-9z";

/// Told apart by shape and filling.
const fn shape(level: Level) -> (&'static str, &'static str) {
    match level {
        Level::None => (CIRCLE, pen::WHITE_MARK),
        Level::Faint => (TRIANGLE, pen::WHITE_MARK),
        Level::Clear => (TRIANGLE, pen::BLACK_MARK),
        Level::Heavy => (SQUARE, pen::BLACK_MARK),
    }
}

fn axis(svg: &mut Svg, low: f64, high: f64, x: &impl Fn(f64) -> f64) {
    svg.line((LEFT, FLOOR), (RIGHT, FLOOR), pen::SOLID);
    let mut decade = 1e-4;
    while decade < 100.0 {
        for step in [1.0, 2.0, 5.0] {
            let tick = decade * step;
            if (low..=high).contains(&tick) {
                svg.line((x(tick), FLOOR), (x(tick), FLOOR + 6.0), pen::THIN);
                svg.text((x(tick), FLOOR + 20.0), pen::CENTRED, &three(tick));
            }
        }
        decade *= 10.0;
    }
    svg.text((RIGHT, FLOOR + 36.0), pen::RIGHT_ALIGNED, "residue, g/m² (logarithmic)");
}

fn legend(svg: &mut Svg) {
    let (x, y) = (RIGHT - 190.0, 20.0);
    svg.line((x, y), (x + 34.0, y), pen::DASHED);
    svg.text((x + 42.0, y + 4.0), pen::TEXT, "before the reports");
    svg.line((x, y + 18.0), (x + 34.0, y + 18.0), pen::SOLID);
    svg.text((x + 42.0, y + 22.0), pen::TEXT, "now; interval hatched");
}

fn says(e: &Evidence) -> String {
    let o = &e.observation;
    let mut t = String::new();
    if let Some(at) = &o.at {
        let _ = write!(t, "{at} ");
    }
    if let Some(group) = &o.group {
        let _ = write!(t, "{group} ");
    }
    let residue = three(o.whiteness_g_m2().unwrap_or(0.0));
    let _ = write!(t, "{} at {residue} g/m²", o.level.word());
    let Some(influence) = e.influence else { return t };
    let _ = write!(t, ": moved the median by {:+.1} %", influence.pull_percent);
    if influence.odd_day > 0.5 {
        let odd = influence.odd_day * 100.0;
        let _ = write!(t, "; the day was probably not as modelled ({odd:.0} %)");
    }
    t
}
