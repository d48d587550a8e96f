//! Growth of one plant over months, and how long to wait before it tells about a change.

use super::answer::{GrowthMonth, PhotoTaken};
use crate::entry::{Growth, Measure};
use crate::moment::Moment;
use guardcell_advice::{Reason, ReasonCode};
use guardcell_reference::parameters::practice;
use jiff::ToSpan as _;
use jiff::civil::Date;

/// What was counted and measured, in the order of time.
#[derive(Debug, Clone, Default)]
pub(crate) struct Grown {
    seen: Vec<(Date, Measure, f64)>,
    pub(crate) photos: Vec<PhotoTaken>,
}

/// Counts of a stretch of time.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Counts {
    roots: f64,
    leaves: f64,
    pseudobulbs: f64,
    lost: f64,
}

impl Counts {
    /// What is new less what was lost.
    fn gain(self) -> f64 {
        self.roots + self.leaves + self.pseudobulbs - self.lost
    }

    fn words(self) -> String {
        let one = |n: f64, one: &str, many: &str| match n {
            1.0 => Some(format!("1 {one}")),
            n if n > 0.0 => Some(format!("{n:.0} {many}")),
            _ => None,
        };
        let all: Vec<String> = [
            one(self.roots, "new root", "new roots"),
            one(self.leaves, "new leaf", "new leaves"),
            one(self.pseudobulbs, "new pseudobulb", "new pseudobulbs"),
            one(self.lost, "leaf lost", "leaves lost"),
        ]
        .into_iter()
        .flatten()
        .collect();
        if all.is_empty() { "nothing new".to_owned() } else { all.join(", ") }
    }
}

impl Grown {
    pub(crate) fn add(&mut self, when: Moment, growth: &Growth) {
        if let (Some(measure), Some(value)) = (growth.measure, growth.value) {
            self.seen.push((when.date(), measure, value));
        }
        if let Some(file) = &growth.photo {
            self.photos.push(PhotoTaken { file: file.clone(), at: when.rfc3339() });
        }
    }

    /// The months with an entry.
    pub(crate) fn months(&self) -> Vec<GrowthMonth> {
        let mut out: Vec<GrowthMonth> = Vec::new();
        for (day, measure, value) in &self.seen {
            let name = day.strftime("%Y-%m").to_string();
            if out.last().is_none_or(|m| m.month != name) {
                out.push(GrowthMonth {
                    month: name,
                    new_roots: 0,
                    new_leaves: 0,
                    new_pseudobulbs: 0,
                    flowers: 0,
                    lost_leaves: 0,
                    leaf_length_mm: None,
                    weight_g: None,
                });
            }
            let Some(month) = out.last_mut() else { continue };
            // Counts are whole and small: checked with the entry.
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1e6")]
            let n = *value as u32;
            match measure {
                Measure::NewRoot => month.new_roots += n,
                Measure::NewLeaf => month.new_leaves += n,
                Measure::NewPseudobulb => month.new_pseudobulbs += n,
                Measure::Flower => month.flowers += n,
                Measure::LostLeaf => month.lost_leaves += n,
                Measure::LeafLengthMm => month.leaf_length_mm = Some(*value),
                Measure::WeightG => month.weight_g = Some(*value),
            }
        }
        out
    }

    /// What the counts tell up to a day: growth answers a change only after the time of the practice
    /// table, so that stretches of that length are compared.
    pub(crate) fn says(&self, today: Date) -> Option<Reason> {
        let first = self.seen.iter().find(|(_, m, _)| m.is_count()).map(|(day, _, _)| *day)?;
        let wait = practice::GROWTH_RESPONSE_AFTER;
        let days = wait.days() as i64;
        let after = |n: i64| first.saturating_add((n * days).days());
        let start = today.saturating_sub(days.days());
        let last = self.counts(start, today);
        let reason = |says: String| {
            Reason::new(ReasonCode::GrowthResponse, says)
                .with("wait_days", wait.days())
                .with("counted_since", first.to_string())
                .with_parameter(wait)
        };
        if today < after(1) {
            return Some(reason(format!(
                "Counted since {}: {} so far. Roots and leaves answer a change of feed after \
                 {days} days or more: look at it from {} on.",
                said(first),
                self.counts(first.saturating_sub(1.days()), today).words(),
                said(after(1))
            )));
        }
        if today < after(2) {
            return Some(reason(format!(
                "In the last {days} days: {}. From {} on that can be held against the {days} days \
                 before.",
                last.words(),
                said(after(2))
            )));
        }
        let before = self.counts(start.saturating_sub(days.days()), start);
        let verdict = match last.gain() - before.gain() {
            d if d > 0.0 => "It gains more than before",
            d if d < 0.0 => "It gains less than before",
            _ => "It gains as much as before",
        };
        Some(
            reason(format!(
                "In the last {days} days: {}; in the {days} days before: {}. {verdict}; seasons \
                 differ, so hold it against the same months of another year where you have them.",
                last.words(),
                before.words()
            ))
            .with("gain", last.gain())
            .with("gain_before", before.gain()),
        )
    }

    /// Counts after one day up to another.
    fn counts(&self, after: Date, until: Date) -> Counts {
        let mut out = Counts::default();
        for (_, measure, n) in self.seen.iter().filter(|(d, ..)| *d > after && *d <= until) {
            match measure {
                Measure::NewRoot => out.roots += n,
                Measure::NewLeaf => out.leaves += n,
                Measure::NewPseudobulb => out.pseudobulbs += n,
                Measure::LostLeaf => out.lost += n,
                Measure::Flower | Measure::LeafLengthMm | Measure::WeightG => {}
            }
        }
        out
    }
}

/// `19 September 2026`.
fn said(day: Date) -> String {
    day.strftime("%-d %B %Y").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grown(seen: &[(&str, Measure, f64)]) -> Grown {
        let mut out = Grown::default();
        for (day, measure, value) in seen {
            let when = Moment::parse("/at", &format!("{day}T08:00:00+01:00")).unwrap();
            out.add(
                when,
                &Growth {
                    plants: vec!["P".into()],
                    measure: Some(*measure),
                    value: Some(*value),
                    photo: None,
                },
            );
        }
        out
    }

    fn says(grown: &Grown, day: &str) -> String {
        grown.says(day.parse().unwrap()).unwrap().message
    }

    /// 90 days (data/practice.csv, common practice, no source) after 1 March is 30 May, 180 days
    /// after is 28 August: by the calendar.
    #[test]
    fn it_is_too_early_and_then_compared() {
        let g = grown(&[
            ("2026-03-01", Measure::NewRoot, 1.0),
            ("2026-04-10", Measure::NewLeaf, 1.0),
            ("2026-07-01", Measure::NewRoot, 3.0),
            ("2026-08-01", Measure::LostLeaf, 1.0),
        ]);
        let early = says(&g, "2026-04-30");
        assert!(early.contains("1 new root, 1 new leaf so far"), "{early}");
        assert!(early.contains("from 30 May 2026 on"), "{early}");
        let middle = says(&g, "2026-06-15");
        assert!(middle.contains("1 new leaf. From 28 August 2026 on"), "{middle}");
        // By 10 September: 3 roots less a leaf in 90 days (from 13 June on), nothing in those before
        // (from 15 March) but the leaf of April.
        let late = says(&g, "2026-09-10");
        assert!(
            late.contains("3 new roots, 1 leaf lost; in the 90 days before: 1 new leaf"),
            "{late}"
        );
        assert!(late.contains("gains more"), "{late}");
        // By 20 December the stretches begin on 21 September and 23 June.
        let winter = says(&g, "2026-12-20");
        assert!(winter.contains("nothing new; in the 90 days before: 3 new roots"), "{winter}");
        assert!(winter.contains("gains less"), "{winter}");
    }

    #[test]
    fn months_add_counts_and_keep_the_last_measure() {
        let g = grown(&[
            ("2026-06-02", Measure::NewRoot, 2.0),
            ("2026-06-20", Measure::NewRoot, 1.0),
            ("2026-06-20", Measure::WeightG, 120.0),
            ("2026-06-28", Measure::WeightG, 125.0),
            ("2026-08-01", Measure::Flower, 4.0),
        ]);
        let months = g.months();
        let seen: Vec<_> =
            months.iter().map(|m| (&*m.month, m.new_roots, m.flowers, m.weight_g)).collect();
        assert_eq!(seen, [("2026-06", 3, 0, Some(125.0)), ("2026-08", 0, 4, None)]);
        assert!(Grown::default().says("2026-06-21".parse().unwrap()).is_none());
    }
}
