//! The account of one plant.

use super::answer::{PlantLedger, PlantWeek, ProductGiven};
use super::growth::Grown;
use crate::adherence::SeenSign;
use crate::entry::{Growth, Level, Sign};
use crate::figure::three;
use crate::moment::{self, Moment};
use guardcell_advice::{PlantEntry, Reason, ReasonCode, Setting, practice_of};
use guardcell_call::Bounded as _;
use guardcell_error::Error;
use guardcell_reference::parameters::practice;
use jiff::ToSpan as _;
use jiff::civil::Date;

/// A past event: when, in words as given, and its day.
#[derive(Debug, Clone)]
struct Past {
    says: String,
    day: Date,
}

impl Past {
    fn of(when: Moment) -> Self {
        Self { says: when.rfc3339(), day: when.date() }
    }

    /// Reads an RFC 3339 time or a date.
    fn read(pointer: &str, text: &str) -> Result<Self, Error> {
        if let Ok(when) = Moment::parse(pointer, text) {
            return Ok(Self::of(when));
        }
        let day = moment::date(text).map_err(|e| e.at(pointer))?;
        Ok(Self { says: text.to_owned(), day })
    }

    fn later(self, other: Option<Self>) -> Option<Self> {
        Some(match other {
            Some(o) if o.day > self.day => o,
            _ => self,
        })
    }
}

/// What is known of one plant while entries are posted in the order of time.
#[derive(Debug)]
pub(crate) struct Account<'a> {
    id: String,
    entry: Option<&'a PlantEntry>,
    weeks: Vec<PlantWeek>,
    first_monday: Option<Date>,
    /// Days of rounds with feed, in order, with repeats.
    fed_days: Vec<Date>,
    first_feed: Option<Date>,
    last_fed: Option<Past>,
    last_flush: Option<Past>,
    given_mg: f64,
    drained_mg: f64,
    given_since_flush_mg: f64,
    flushes_not_measured: u32,
    root_logged: bool,
    products: Vec<ProductGiven>,
    grown: Grown,
    signs: Vec<SeenSign>,
    lost: Option<Past>,
}

impl<'a> Account<'a> {
    pub(crate) fn open(
        id: String,
        entry: Option<&'a PlantEntry>,
        weeks: Vec<PlantWeek>,
        index: usize,
    ) -> Result<Self, Error> {
        let read = |field: &str, text: Option<&String>| {
            text.map(|t| Past::read(&format!("/plants/{index}/{field}"), t)).transpose()
        };
        if let Some(entry) = entry {
            entry.check_bounds().map_err(|e| e.within(&format!("/plants/{index}")))?;
        }
        Ok(Self {
            id,
            first_monday: weeks.first().and_then(|w| w.starts.parse().ok()),
            weeks,
            fed_days: Vec::new(),
            first_feed: None,
            last_fed: read("last_fed", entry.and_then(|e| e.last_fed.as_ref()))?,
            last_flush: read("last_flush", entry.and_then(|e| e.last_flush.as_ref()))?,
            entry,
            given_mg: 0.0,
            drained_mg: 0.0,
            given_since_flush_mg: 0.0,
            flushes_not_measured: 0,
            root_logged: false,
            products: Vec::new(),
            grown: Grown::default(),
            signs: Vec::new(),
            lost: None,
        })
    }

    fn week(&mut self, when: Moment, counted: bool) -> Option<&mut PlantWeek> {
        let days = days_between(self.first_monday.filter(|_| counted)?, when.date());
        self.weeks.get_mut(usize::try_from(days / 7).ok()?)
    }

    /// What it was given of which product. Plain water has none.
    pub(crate) fn product(
        &mut self,
        when: Moment,
        counted: bool,
        (product, strength_mg_l): (Option<&String>, f64),
        at_root: bool,
    ) {
        if !counted {
            return;
        }
        let plain_water = strength_mg_l <= 0.0;
        let product = product.filter(|_| !plain_water);
        let same = |p: &ProductGiven| p.product.as_ref() == product && p.plain_water == plain_water;
        let mut given = match self.products.iter().position(same) {
            Some(i) => self.products.remove(i),
            None => ProductGiven {
                product: product.cloned(),
                plain_water,
                rounds: 0,
                root_feeds: 0,
                last: String::new(),
            },
        };
        given.rounds += u32::from(!at_root);
        given.root_feeds += u32::from(at_root);
        given.last = when.rfc3339();
        // Entries come in the order of time: what was given last is first.
        self.products.insert(0, given);
    }

    /// A round: the feed in what stayed on the plant. Plain water is not a feed.
    pub(crate) fn round(
        &mut self,
        when: Moment,
        counted: bool,
        strength_mg_l: f64,
        n_mg_l: Option<f64>,
        kept_ml: Option<f64>,
    ) {
        if strength_mg_l <= 0.0 {
            return;
        }
        self.first_feed.get_or_insert(when.date());
        self.last_fed = Past::of(when).later(self.last_fed.take());
        if counted {
            self.fed_days.push(when.date());
        }
        let mg = kept_ml.map(|ml| ml * strength_mg_l / 1000.0);
        if let Some(week) = self.week(when, counted) {
            week.rounds += 1;
            week.leaf_mg += mg.unwrap_or(0.0);
            nitrogen(week, n_mg_l, kept_ml);
        }
        self.give(counted, mg.unwrap_or(0.0));
    }

    /// A feed at the root: what was given less what ran out below.
    pub(crate) fn root_feed(
        &mut self,
        when: Moment,
        counted: bool,
        strength_mg_l: f64,
        n_mg_l: Option<f64>,
        given_ml: Option<f64>,
        drained_mg: Option<f64>,
    ) {
        self.root_logged |= counted;
        if strength_mg_l > 0.0 {
            self.first_feed.get_or_insert(when.date());
        }
        let given = given_ml.map(|ml| ml * strength_mg_l / 1000.0);
        let stayed = given.map_or(0.0, |mg| (mg - drained_mg.unwrap_or(0.0)).max(0.0));
        if let Some(week) = self.week(when, counted) {
            week.root_feeds += 1;
            week.root_mg += stayed;
            nitrogen(week, n_mg_l, given_ml);
        }
        if counted {
            self.drained_mg += drained_mg.unwrap_or(0.0);
            self.given_mg += given.unwrap_or(0.0);
            self.given_since_flush_mg += stayed;
        }
    }

    fn give(&mut self, counted: bool, mg: f64) {
        if counted {
            self.given_mg += mg;
            self.given_since_flush_mg += mg;
        }
    }

    pub(crate) fn flush(&mut self, when: Moment, counted: bool, drained_mg: Option<f64>) {
        self.last_flush = Past::of(when).later(self.last_flush.take());
        self.given_since_flush_mg = 0.0;
        if let Some(week) = self.week(when, counted) {
            week.flushes += 1;
        }
        if counted {
            match drained_mg {
                Some(mg) => self.drained_mg += mg,
                None => self.flushes_not_measured += 1,
            }
        }
    }

    pub(crate) fn soak(&mut self, when: Moment, counted: bool) {
        if let Some(week) = self.week(when, counted) {
            week.soaks += 1;
        }
    }

    pub(crate) fn residue(&mut self, when: Moment, counted: bool, level: Level) {
        if let Some(week) = self.week(when, counted) {
            week.residue = week.residue.max(Some(level));
        }
    }

    /// What was counted or measured, whenever it was: growth is counted over months.
    pub(crate) fn growth(&mut self, when: Moment, seen: &Growth) {
        self.grown.add(when, seen);
    }

    pub(crate) fn sign(&mut self, when: Moment, sign: Sign, entry: &str) {
        self.signs.push(SeenSign { sign, entry: entry.to_owned(), at: when.rfc3339() });
        if sign == Sign::Loss {
            self.lost = Some(Past::of(when));
        }
    }

    /// The account as it stands at a moment.
    pub(crate) fn close(mut self, at: Moment) -> PlantLedger {
        let today = at.date();
        if let (false, Some(mg)) = (self.root_logged, self.entry.and_then(|e| e.root_feed_mg_week))
        {
            // A week that is not over yet has not had its amount yet: it is counted in full, so
            // that a ceiling is rather seen too early.
            for week in &mut self.weeks {
                week.root_mg = mg;
                week.root_stated = true;
            }
        }
        let interval = self.entry.map(|e| practice_of(e).interval_days);
        let next_due = match (&self.last_fed, interval, &self.lost) {
            (Some(last), Some(i), None) => Some(after(last.day, i)),
            _ => None,
        };
        let potted = self.entry.is_some_and(|e| e.setting == Setting::Potted);
        let flush_from = self.last_flush.as_ref().map(|p| p.day).or(self.first_feed);
        let flush_due = flush_from
            .filter(|_| potted && self.lost.is_none())
            .map(|day| after(day, practice::POT_FLUSH_INTERVAL.days()));
        let warnings = self.warnings(today, flush_due);
        let since = |p: &Past| days_between(p.day, today);
        PlantLedger {
            name: self.entry.map(|e| e.name.clone()),
            given_mg: self.given_mg,
            drained_mg: self.drained_mg,
            given_since_flush_mg: self.given_since_flush_mg,
            flushes_not_measured: self.flushes_not_measured,
            days_since_fed: self.last_fed.as_ref().map(since),
            days_since_flush: self.last_flush.as_ref().map(since),
            last_fed: self.last_fed.map(|p| p.says),
            last_flush: self.last_flush.map(|p| p.says),
            next_due: next_due.map(|d| d.to_string()),
            flush_due: flush_due.map(|d| d.to_string()),
            lost: self.lost.map(|p| p.says),
            products: self.products,
            growth: self.grown.months(),
            growth_says: self.grown.says(today).into_iter().collect(),
            signs: self.signs,
            photos: self.grown.photos,
            warnings,
            weeks: self.weeks,
            id: self.id,
        }
    }

    fn warnings(&self, today: Date, flush_due: Option<Date>) -> Vec<Reason> {
        let mut out = Vec::new();
        for week in &self.weeks {
            if let Some(ceiling) = week.ceiling_mg.filter(|c| week.total_mg() > *c) {
                out.push(
                    Reason::new(
                        ReasonCode::WeeklyCeiling,
                        format!(
                            "In {} leaf and root together gave the pot {} mg of feed, over its ceiling of {} mg.",
                            week.week,
                            three(week.total_mg()),
                            three(ceiling)
                        ),
                    )
                    .with("week", week.week.as_str())
                    .with("leaf_mg", week.leaf_mg)
                    .with("root_mg", week.root_mg)
                    .with("ceiling_mg", ceiling)
                    .with_parameter(practice::POT_WEEKLY_SALTS),
                );
            }
        }
        if let Some(due) = flush_due.filter(|d| *d <= today) {
            out.push(
                Reason::new(
                    ReasonCode::FlushDue,
                    format!("A flush of the pot with plain water is due since {due}."),
                )
                .with("flush_due", due.to_string())
                .with_parameter(practice::POT_FLUSH_INTERVAL),
            );
        }
        if let Some(entry) = self.entry {
            out.extend(self.too_often(entry));
        }
        out
    }

    /// Rounds that came sooner than the practice table has it, by the grower's calendar.
    fn too_often(&self, entry: &PlantEntry) -> Option<Reason> {
        let interval = practice_of(entry).interval_days;
        let a_day = if interval < 1.0 { interval.recip() as usize } else { 1 };
        let mut early = Vec::new();
        for (i, day) in self.fed_days.iter().enumerate() {
            let same = self.fed_days.iter().take(i).rev().take_while(|d| *d == day).count();
            let before = i.checked_sub(same + 1).and_then(|j| self.fed_days.get(j));
            let soon = before.is_some_and(|b| f64::from(days_between(*b, *day)) < interval.floor());
            if same >= a_day || (same == 0 && soon) {
                early.push(*day);
            }
        }
        let last = early.last()?;
        Some(
            Reason::new(
                ReasonCode::FedRecently,
                format!(
                    "{} of {} rounds came sooner than practice has it, {}; the last on {last}.",
                    early.len(),
                    self.fed_days.len(),
                    often(interval, a_day)
                ),
            )
            .with("rounds", self.fed_days.len())
            .with("too_soon", early.len())
            .with("interval_d", interval)
            .with_parameter(practice::INTERVAL_OTHER),
        )
    }
}

fn nitrogen(week: &mut PlantWeek, n_mg_l: Option<f64>, ml: Option<f64>) {
    match (n_mg_l, ml) {
        (_, None) => week.without_volume += 1,
        (None, Some(_)) => week.without_n += 1,
        (Some(n), Some(ml)) => week.n_mg += n * ml / 1000.0,
    }
}

/// How often, in words.
fn often(interval_days: f64, a_day: usize) -> String {
    match a_day {
        1 if interval_days > 1.0 => format!("once in {} days", three(interval_days)),
        1 => "once a day".to_owned(),
        n => format!("at most {n} times a day"),
    }
}

/// The day on which an interval is over; of less than a day on the same.
fn after(day: Date, interval_days: f64) -> Date {
    day.saturating_add((interval_days.floor() as i64).days())
}

fn days_between(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}
