//! Growth by month as a picture: a row for each thing that was counted or measured.

use super::answer::{GrowthMonth, Ledger, PlantLedger};
use crate::figure::three;
use crate::pen;
use guardcell_advice::svg::Svg;

const LEFT: f64 = 130.0;
const TOP: f64 = 52.0;
/// A row, and the highest bar in it.
const ROW: f64 = 44.0;
const BAR: f64 = 26.0;
const HEAD: f64 = 26.0;
/// The most months that are drawn: the last of them.
const MOST_MONTHS: i32 = 120;

/// What a row shows.
struct Row {
    name: &'static str,
    of: fn(&GrowthMonth) -> Option<f64>,
    style: &'static str,
}

/// Counts stand on the line, in white what was gained and in black what was lost; what is measured
/// is a mark at its height.
const ROWS: [Row; 7] = [
    Row { name: "new roots", of: |m| counted(m.new_roots), style: pen::WHITE_BAR },
    Row { name: "new leaves", of: |m| counted(m.new_leaves), style: pen::WHITE_BAR },
    Row { name: "new pseudobulbs", of: |m| counted(m.new_pseudobulbs), style: pen::WHITE_BAR },
    Row { name: "flowers", of: |m| counted(m.flowers), style: pen::WHITE_BAR },
    Row { name: "leaves lost", of: |m| counted(m.lost_leaves), style: pen::BLACK_BAR },
    Row { name: "longest leaf, mm", of: |m| m.leaf_length_mm, style: pen::OPEN_MARK },
    Row { name: "weight, g", of: |m| m.weight_g, style: pen::OPEN_MARK },
];

fn counted(n: u32) -> Option<f64> {
    (n > 0).then_some(f64::from(n))
}

impl Ledger {
    /// Growth of each plant of which any is on record: a row for each thing counted or measured, a
    /// column a month, of the last ten years at most.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// use guardcell::ledger::{LedgerRequest, ledger};
    /// let request = LedgerRequest::new(vec![], "2026-06-21T18:00:00Z");
    /// assert!(ledger(&request).unwrap().growth_svg().contains("No growth is on record"));
    /// ```
    #[must_use]
    pub fn growth_svg(&self) -> String {
        let grown: Vec<Grown<'_>> = self.plants.iter().filter_map(Grown::of).collect();
        let months = |g: &Grown<'_>| f64::from(g.last - g.first + 1);
        let widest = grown.iter().map(months).fold(1.0, f64::max);
        let step = (560.0 / widest).clamp(14.0, 56.0);
        let height: f64 = grown.iter().map(|g| HEAD + ROW * g.rows.len() as f64 + 24.0).sum();
        let width = (LEFT + step * widest + 20.0).max(480.0);
        let mut svg = Svg::new(width, TOP + height.max(20.0));
        svg.text((10.0, 24.0), pen::TITLE, &format!("Growth by month, to {}", self.at));
        if grown.is_empty() {
            svg.text((10.0, TOP), pen::TEXT, "No growth is on record.");
        }
        let mut top = TOP;
        for g in &grown {
            top = g.draw(&mut svg, top, step);
        }
        let says: Vec<String> = grown.iter().map(Grown::says).collect();
        svg.finish("Growth of each plant by month", &says.join("\n"))
    }
}

/// A plant with the months and rows that are drawn.
struct Grown<'a> {
    plant: &'a PlantLedger,
    /// Months since the year 0.
    first: i32,
    last: i32,
    rows: Vec<&'static Row>,
}

impl<'a> Grown<'a> {
    fn of(plant: &'a PlantLedger) -> Option<Self> {
        let last = plant.growth.iter().filter_map(number).max()?;
        let earliest = last - MOST_MONTHS + 1;
        let first = plant.growth.iter().filter_map(number).min()?.max(earliest);
        let drawn = |m: &&GrowthMonth| number(m).is_some_and(|n| n >= first);
        let rows: Vec<&Row> = ROWS
            .iter()
            .filter(|row| plant.growth.iter().filter(drawn).any(|m| (row.of)(m).is_some()))
            .collect();
        (!rows.is_empty()).then_some(Self { plant, first, last, rows })
    }

    /// Draws it below `top`; gives where the next one begins.
    fn draw(&self, svg: &mut Svg, top: f64, step: f64) -> f64 {
        svg.text((10.0, top + 12.0), pen::SUBTITLE, &self.plant.title());
        let end = LEFT + step * f64::from(self.last - self.first + 1);
        for (i, row) in self.rows.iter().enumerate() {
            let floor = top + HEAD + ROW * i as f64 + ROW - 12.0;
            svg.text((LEFT - 8.0, floor - 6.0), pen::RIGHT_ALIGNED, row.name);
            svg.line((LEFT, floor), (end, floor), pen::THIN);
            self.draw_row(svg, row, floor, step);
        }
        let bottom = top + HEAD + ROW * self.rows.len() as f64;
        // A label where there is room for one.
        let every = (46.0 / step).ceil() as i32;
        for month in (self.first..=self.last).step_by(every.max(1) as usize) {
            svg.text((self.x(month, step), bottom + 4.0), pen::SMALL, &name(month));
        }
        bottom + 24.0
    }

    fn draw_row(&self, svg: &mut Svg, row: &Row, floor: f64, step: f64) {
        let values = self.plant.growth.iter().filter_map(|m| Some((number(m)?, (row.of)(m)?)));
        let values: Vec<(i32, f64)> = values.filter(|(month, _)| *month >= self.first).collect();
        let most = values.iter().map(|(_, v)| *v).fold(f64::MIN_POSITIVE, f64::max);
        for (month, value) in &values {
            let (x, high) = (self.x(*month, step), BAR * value / most);
            let says = format!("{}: {} {}", name(*month), three(*value), row.name);
            let middle = x + step / 2.0;
            if row.style == pen::OPEN_MARK {
                svg.mark((middle, floor - high), pen::CROSS, row.style, &says);
            } else {
                svg.titled_rect((x + 2.0, floor - high), (step - 4.0, high), row.style, &says);
            }
            svg.text((middle, floor - high - 3.0), pen::SMALL_CENTRED, &three(*value));
        }
    }

    fn x(&self, month: i32, step: f64) -> f64 {
        LEFT + step * f64::from(month - self.first)
    }

    /// The same in words.
    fn says(&self) -> String {
        let months = self.plant.growth.iter().map(|m| {
            let of = |row: &&Row| (row.of)(m).map(|v| format!("{} {}", three(v), row.name));
            let seen: Vec<String> = ROWS.iter().filter_map(|row| of(&row)).collect();
            let seen = if seen.is_empty() { "nothing new".into() } else { seen.join(", ") };
            format!("{}: {seen}", m.month)
        });
        format!("{}: {}", self.plant.title(), months.collect::<Vec<_>>().join("; "))
    }
}

/// The number of a month such as `2026-06`.
fn number(m: &GrowthMonth) -> Option<i32> {
    let (year, month) = m.month.split_once('-')?;
    Some(12 * year.parse::<i32>().ok()? + month.parse::<i32>().ok()? - 1)
}

/// `2026-06`.
fn name(number: i32) -> String {
    format!("{:04}-{:02}", number.div_euclid(12), number.rem_euclid(12) + 1)
}
