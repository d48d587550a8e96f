//! The 24-hour ribbon as SVG.

use super::ribbon::{DayRibbonResponse, count};
use crate::svg::Svg;
use jiff::Timestamp;

// Narrow enough for the letters to be read on a phone.
const LEFT: f64 = 16.0;
const WIDTH: f64 = 440.0;
const RIGHT: f64 = 40.0;
const TOP: f64 = 76.0;
const LIGHT: f64 = 16.0;
const AIR: f64 = 80.0;
const ROW: f64 = 70.0;

impl DayRibbonResponse {
    /// The ribbon as SVG: light as a bar, humidity as a line with its numbers, openings as bars as
    /// high as they are probable, the best window as a heavy frame with its strength. Shapes tell
    /// all of it in grey print too.
    #[must_use]
    pub fn svg(&self) -> String {
        let rows = self.groups.len() as f64;
        let height = TOP + LIGHT + AIR + 44.0 + rows * ROW + 52.0;
        let mut svg = Svg::new(LEFT + WIDTH + RIGHT, height);
        svg.text((16.0, 26.0), r#"font-size="17" font-weight="bold""#, &self.title);
        svg.text(
            (16.0, 46.0),
            r##"fill="#333""##,
            &format!("24 hours from {}", self.from.replace('T', " ")),
        );
        let Some((start, end)) = self.bounds() else {
            return svg.finish(&self.title, &self.description.join(" "));
        };
        let span = end.duration_since(start).as_secs_f64();
        let x = |text: &str| -> f64 {
            let t: Timestamp = text.parse().unwrap_or(start);
            LEFT + (t.duration_since(start).as_secs_f64() / span).clamp(0.0, 1.0) * WIDTH
        };
        self.hours(&mut svg, start, span, height);
        svg.rect((LEFT, TOP), (WIDTH, LIGHT), r##"fill="#2b3a4d""##);
        for (a, b) in &self.lit {
            svg.rect(
                (x(a), TOP),
                (x(b) - x(a), LIGHT),
                r##"fill="#ffe9a8" stroke="#2b3a4d" stroke-width="1.5""##,
            );
        }
        self.humidity(&mut svg, &x);
        let mut y = TOP + LIGHT + AIR + 44.0;
        for g in &self.groups {
            let base = y + ROW - 20.0;
            svg.text(
                (LEFT, base - 34.0),
                r#"font-size="13""#,
                &format!("{}, {}", g.name, count(g.plants.len())),
            );
            svg.line((LEFT, base), (LEFT + WIDTH, base), r##"stroke="#888""##);
            for o in &g.openings {
                let h = 26.0 * o.probability.clamp(0.05, 1.0);
                svg.rect(
                    (x(&o.start), base - h),
                    (x(&o.end) - x(&o.start), h),
                    r##"fill="#9fcfa6" stroke="#2c5c46""##,
                );
            }
            if let Some(w) = &g.best {
                let (a, b) = (x(&w.start), x(&w.end));
                svg.rect(
                    (a, base - 30.0),
                    (b - a, 32.0),
                    r##"fill="none" stroke="#0b4f33" stroke-width="3""##,
                );
                let label = if w.feed_strength_mg_l > 0.0 {
                    format!("{:.0} mg/L", w.feed_strength_mg_l)
                } else {
                    "water".into()
                };
                svg.text(
                    (f64::midpoint(a, b), base + 13.0),
                    r#"text-anchor="middle" font-size="12" font-weight="bold""#,
                    &label,
                );
            }
            y += ROW;
        }
        for (up, says) in [
            (28.0, "Bar on top: light. Line: humidity. Bars: stomata open, as high as"),
            (12.0, "probable. Heavy frame: best window, with its feed strength."),
        ] {
            svg.text((LEFT, height - up), r##"font-size="12" fill="#333""##, says);
        }
        svg.finish(&self.title, &self.description.join(" "))
    }

    fn hours(&self, svg: &mut Svg, start: Timestamp, span: f64, height: f64) {
        for (t, text) in self.every_third_hour() {
            let x = LEFT + t.duration_since(start).as_secs_f64() / span * WIDTH;
            svg.line(
                (x, TOP - 4.0),
                (x, height - 48.0),
                r##"stroke="#ccc" stroke-dasharray="2 4""##,
            );
            svg.text((x, TOP - 8.0), r#"text-anchor="middle" font-size="12""#, &text);
        }
    }

    fn humidity(&self, svg: &mut Svg, x: &dyn Fn(&str) -> f64) {
        let (low, high) = (20.0, 100.0);
        let top = TOP + LIGHT + 26.0;
        let y = |rh: f64| top + (high - rh.clamp(low, high)) / (high - low) * AIR;
        svg.text((LEFT, top - 6.0), r#"font-size="13""#, "humidity, %");
        for rh in [40.0, 60.0, 80.0, 100.0] {
            svg.line((LEFT, y(rh)), (LEFT + WIDTH, y(rh)), r##"stroke="#ddd""##);
            svg.text((LEFT + WIDTH + 6.0, y(rh) + 4.0), r#"font-size="12""#, &format!("{rh:.0}"));
        }
        let points: Vec<(f64, f64)> =
            self.air.iter().map(|a| (x(&a.time), y(a.rh_percent))).collect();
        if points.len() > 1 {
            svg.polyline(points, r##"stroke="#1f5f7a" stroke-width="2.5""##);
        }
    }
}
