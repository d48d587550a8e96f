//! Which feed a sitting uses: the turns of the site, their months, and what the journal says came
//! last.

use crate::time::day;
use crate::{label, layout};
use guardcell::advice::{AdviceRequest, FeedDescription, PlantEntry, SiteDescription};
use guardcell::ledger::{Entry, Event, standing_entries};
use guardcell::solution::{Label, label::Supplement};
use guardcell::{Code, Error, excerpt};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// The word of a rota for plain water.
pub const WATER: &str = "water";

/// What a turn gives.
#[derive(Debug, Clone, PartialEq)]
pub enum Gives {
    /// A feed, by the name of the rota, with its label.
    Feed {
        /// The name in the rota.
        name: String,
        /// The product.
        label: Box<Label>,
    },
    /// Plain water.
    Water,
}

impl Gives {
    /// The word of the rota.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Feed { name, .. } => name,
            Self::Water => WATER,
        }
    }

    /// Whether an entry of the journal with this strength and product was such a turn.
    fn was(&self, given: &Given) -> bool {
        match (self, given) {
            (Self::Water, Given::Water) => true,
            (Self::Feed { name, label }, Given::Feeds(products)) => {
                let own = label.mix_name().to_lowercase();
                products.is_empty()
                    || products
                        .iter()
                        .map(|p| p.to_lowercase())
                        .any(|p| p == own || p == name.to_lowercase() || own.contains(&p))
            }
            _ => false,
        }
    }
}

/// The turn of a moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Turn {
    /// What it gives.
    pub gives: Gives,
    /// Its place in the rota, from 1.
    pub place: usize,
    /// How many turns the rota has.
    pub of: usize,
    /// The last day with a round before that of the moment, and what was given, as the journal has
    /// it.
    pub last: Option<(Date, String)>,
    /// What comes after it.
    pub next: Gives,
    /// Whether a round of this turn is already in the journal of this day.
    pub begun: bool,
}

/// What the rounds of one day gave.
enum Given {
    Water,
    /// The products that were written down.
    Feeds(Vec<String>),
}

/// The feeds of a site with their labels, in the order of the file.
///
/// # Errors
///
/// Two feeds of one name, a feed called `water`, a product that fits no label or several; the
/// pointer begins at the site.
pub fn feeds<'a>(
    site: &'a SiteDescription,
    labels: &[Label],
) -> Result<Vec<(&'a FeedDescription, Label)>, Error> {
    let mut out: Vec<(&FeedDescription, Label)> = Vec::new();
    for (i, feed) in site.feeds.iter().enumerate() {
        let at = |e: Error, field: &str| e.without_pointer().at(format!("/feeds/{i}/{field}"));
        let wrong =
            |detail: String, hint: &str| at(Error::new(Code::Conflict, detail, hint), "name");
        if feed.name.eq_ignore_ascii_case(WATER) {
            return Err(wrong(
                format!("{:?} means plain water, not a feed", feed.name),
                "write water in the rota, without a feed of that name",
            ));
        }
        if out.iter().any(|(other, _)| other.name.eq_ignore_ascii_case(&feed.name)) {
            return Err(wrong(
                format!("duplicate feed {:?}", excerpt(&feed.name, 60)),
                "give each feed its own name",
            ));
        }
        out.push((feed, mixed(feed, labels).map_err(|e| e.within(&format!("/feeds/{i}")))?));
    }
    Ok(out)
}

/// The label of a feed with those of its supplements.
fn mixed(feed: &FeedDescription, labels: &[Label]) -> Result<Label, Error> {
    let chosen = |name: &str, pointer: &str| {
        let mut found = label::choose(labels.to_vec(), &[name.to_owned()]).map_err(|e| {
            let hint = format!("put its label into {}/, or {}", layout::LABELS, e.hint());
            Error::new(Code::Unknown, e.detail(), hint).at(pointer)
        })?;
        found.pop().ok_or_else(|| Error::internal("a label that was chosen is missing"))
    };
    let mut label = match &feed.product {
        Some(product) => chosen(product, "/product")?,
        None => chosen(&feed.name, "/name")?,
    };
    for (i, supplement) in feed.with.iter().enumerate() {
        let found = chosen(&supplement.product, &format!("/with/{i}/product"))?;
        label.with.push(Supplement { label: found, amount: supplement.amount });
    }
    Ok(label)
}

/// The labels, with the supplements that the site gives to the feeds of these names.
///
/// # Errors
///
/// As [`feeds`], for these.
pub fn with_supplements(
    site: &SiteDescription,
    mut labels: Vec<Label>,
    names: &[String],
) -> Result<Vec<Label>, Error> {
    for (i, feed) in site.feeds.iter().enumerate().filter(|(_, f)| !f.with.is_empty()) {
        if names.iter().any(|name| name.eq_ignore_ascii_case(&feed.name)) {
            let label = mixed(feed, &labels).map_err(|e| e.within(&format!("/feeds/{i}")))?;
            labels.iter_mut().filter(|l| l.name == label.name).for_each(|l| l.clone_from(&label));
        }
    }
    Ok(labels)
}

/// The turn of a moment (RFC 3339, the offset is that of the grower's clock); none where the site
/// has neither feeds nor a rota.
///
/// All rounds of one day are one turn. The rota goes on after what was given last: a turn that was
/// given out of order is found again, a product that is not in the rota changes nothing. Turns out of
/// their months are passed over.
///
/// # Errors
///
/// As [`feeds`]; also a rota with a name that is not a feed, or with no turn in this month.
///
/// ```
/// let text = "name = \"Home\"\nlatitude_deg = 51.5\nlongitude_deg = 0\n\
///             time_zone = \"Europe/London\"\n\
///             [[areas]]\nid = \"sill\"\nname = \"Sill\"\nshelter = \"room\"\n\
///             [grower]\nrota = [\"leaf\", \"water\"]\n\
///             [[feeds]]\nname = \"leaf\"\n";
/// let site = guardcell_folder::site("site.toml", text)?;
/// let label = "name = \"Leaf feed\"\n[guaranteed]\nn_percent = 20";
/// let labels = guardcell_folder::labels("leaf.toml", label)?;
/// let turn = guardcell_folder::turn(&site, &labels, &[], "2026-06-21T08:00:00+01:00")?.unwrap();
/// assert_eq!((turn.gives.name(), turn.next.name()), ("leaf", "water"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn turn(
    site: &SiteDescription,
    labels: &[Label],
    entries: &[Entry],
    at: &str,
) -> Result<Option<Turn>, Error> {
    if !has_turns(site) {
        return Ok(None);
    }
    let turns = turns(site, labels)?;
    let today =
        day(at).ok_or_else(|| Error::internal(format!("{at:?} is not the moment of a turn")))?;
    let in_season: Vec<bool> = turns.iter().map(|(_, months)| in_month(months, today)).collect();
    let first_from = |from: usize| {
        (0..turns.len())
            .map(|k| (from + k) % turns.len())
            .find(|i| in_season.get(*i) == Some(&true))
    };
    let mut days = by_day(entries, at)?;
    let now = days.remove(&today);
    let mut expected = 0;
    let mut last = None;
    let found = |from: usize, given: &Given| {
        (0..turns.len())
            .map(|k| (from + k) % turns.len())
            .find(|i| turns.get(*i).is_some_and(|(gives, _)| gives.was(given)))
    };
    for (day, given) in &days {
        if let Some(i) = found(expected, given) {
            expected = (i + 1) % turns.len();
        }
        last = Some((*day, words(given)));
    }
    let begun = now.as_ref().and_then(|given| found(expected, given));
    let Some(i) = begun.or_else(|| first_from(expected)) else {
        return Err(Error::new(
            Code::Missing,
            format!("no turn of the rota is given in {}", today.strftime("%B")),
            "give a feed more `months`, or none to give it all the year",
        )
        .at("/grower/rota"));
    };
    let gives = |i: usize| turns.get(i).map_or(Gives::Water, |(gives, _)| gives.clone());
    Ok(Some(Turn {
        gives: gives(i),
        place: i + 1,
        of: turns.len(),
        last,
        next: gives(first_from(i + 1).unwrap_or(i)),
        begun: begun.is_some(),
    }))
}

/// Puts the feed of the turn into a request, or that it is one of plain water; turns of water count
/// as turns.
///
/// # Errors
///
/// As [`turn`], with the pointer into the request; a moment or an entry that cannot be read.
pub fn take_turn(
    request: &mut AdviceRequest,
    labels: &[Label],
    entries: &[Entry],
    at: &str,
) -> Result<Option<Turn>, Error> {
    let turn = turn(&request.site, labels, entries, at).map_err(|e| e.within("/site"))?;
    count_water_turns(&mut request.plants, entries, at)?;
    match turn.as_ref().map(|t| &t.gives) {
        Some(Gives::Feed { label, .. }) => request.feed = Some(Label::clone(label)),
        Some(Gives::Water) => request.plain_water = true,
        None => {}
    }
    Ok(turn)
}

/// Whether a site has feeds in turn.
#[must_use]
pub fn has_turns(site: &SiteDescription) -> bool {
    !site.feeds.is_empty() || !site.grower.rota.is_empty()
}

/// What a site feeds where no turn is asked for, by its name in the rota or on its label: `feed` of
/// the grower, else the first feed.
#[must_use]
pub fn usual_feed(site: &SiteDescription) -> Option<String> {
    site.grower.feed.clone().or_else(|| site.feeds.first().map(|f| f.name.clone()))
}

/// The product of [`usual_feed`].
#[must_use]
pub fn usual_product(site: &SiteDescription) -> Option<String> {
    usual_feed(site).map(|name| product_named(site, &name))
}

/// The product of a feed by its name in the rota; what is no such name stays as it is.
#[must_use]
pub fn product_named(site: &SiteDescription, name: &str) -> String {
    site.feeds
        .iter()
        .find(|f| f.name.eq_ignore_ascii_case(name))
        .and_then(|f| f.product.as_deref())
        .unwrap_or(name)
        .to_owned()
}

/// Counts rounds of plain water as turns: whoever had one is not due again at once.
///
/// # Errors
///
/// A moment or an entry that cannot be read.
fn count_water_turns(plants: &mut [PlantEntry], entries: &[Entry], at: &str) -> Result<(), Error> {
    let mut last: BTreeMap<&str, &str> = BTreeMap::new();
    for entry in standing_entries(entries, at)? {
        if let Event::Round(r) = &entry.event
            && r.feed_strength_mg_l <= 0.0
        {
            last.extend(r.plants.iter().map(|p| (p.plant.as_str(), entry.at.as_str())));
        }
    }
    for plant in plants {
        let Some(water) = last.get(plant.id.as_str()) else { continue };
        if plant.last_fed.as_deref().is_none_or(|fed| is_later(water, fed)) {
            plant.last_fed = Some((*water).to_owned());
        }
    }
    Ok(())
}

/// Whether a time is after another, which may be a date.
fn is_later(time: &str, other: &str) -> bool {
    match (time.parse::<jiff::Timestamp>(), other.parse::<jiff::Timestamp>()) {
        (Ok(a), Ok(b)) => a > b,
        _ => day(time) >= day(other),
    }
}

/// The turns in their order, each with its months.
fn turns<'a>(site: &'a SiteDescription, labels: &[Label]) -> Result<Vec<(Gives, &'a [u8])>, Error> {
    let feeds = feeds(site, labels)?;
    let of = |feed: &(&'a FeedDescription, Label)| {
        let (description, label) = feed;
        let gives = Gives::Feed { name: description.name.clone(), label: Box::new(label.clone()) };
        (gives, description.months.as_slice())
    };
    if site.grower.rota.is_empty() {
        return Ok(feeds.iter().map(of).collect());
    }
    let mut out = Vec::new();
    for (i, name) in site.grower.rota.iter().enumerate() {
        if name.eq_ignore_ascii_case(WATER) {
            out.push((Gives::Water, [].as_slice()));
            continue;
        }
        let feed = feeds.iter().find(|(f, _)| f.name.eq_ignore_ascii_case(name));
        out.push(feed.map(of).ok_or_else(|| {
            let known: Vec<&str> =
                feeds.iter().map(|(f, _)| f.name.as_str()).chain([WATER]).collect();
            Error::new(
                Code::Unknown,
                format!("{:?} is not a feed of the site", excerpt(name, 60)),
                format!("write one of {}, or add it under [[feeds]]", known.join(", ")),
            )
            .at(format!("/grower/rota/{i}"))
        })?);
    }
    Ok(out)
}

fn in_month(months: &[u8], day: Date) -> bool {
    months.is_empty() || months.iter().any(|m| i32::from(*m) == i32::from(day.month()))
}

/// What the rounds that stand gave, day by day of the grower's own clock.
fn by_day(entries: &[Entry], at: &str) -> Result<BTreeMap<Date, Given>, Error> {
    let mut out: BTreeMap<Date, Given> = BTreeMap::new();
    for entry in standing_entries(entries, at)? {
        let (Event::Round(round), Some(day)) = (&entry.event, day(&entry.at)) else { continue };
        let given = out.entry(day).or_insert(Given::Water);
        if round.feed_strength_mg_l <= 0.0 {
            continue;
        }
        if matches!(given, Given::Water) {
            *given = Given::Feeds(Vec::new());
        }
        if let (Given::Feeds(products), Some(product)) = (given, &round.product)
            && !products.contains(product)
        {
            products.push(product.clone());
        }
    }
    Ok(out)
}

fn words(given: &Given) -> String {
    match given {
        Given::Water => "plain water".to_owned(),
        Given::Feeds(products) if products.is_empty() => "feed".to_owned(),
        Given::Feeds(products) => products.join(" and "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site(rest: &str) -> SiteDescription {
        let text = format!(
            "name = \"S\"\nlatitude_deg = 51.5\nlongitude_deg = 0\ntime_zone = \"Europe/London\"\n\
             [[areas]]\nid = \"a\"\nname = \"A\"\nshelter = \"room\"\n{rest}"
        );
        crate::site("site.toml", &text).unwrap()
    }

    const FEEDS: &str = "[[feeds]]\nname = \"leaf\"\nproduct = \"Leaf 20\"\n\
                         [[feeds]]\nname = \"bloom\"\nproduct = \"Bloom 10\"\nmonths = [9, 10, 11]\n";

    fn labels() -> Vec<Label> {
        ["Leaf 20-20-20", "Bloom 10-30-20"]
            .into_iter()
            .flat_map(|name| {
                let text = format!("name = {name:?}\n[guaranteed]\nn_percent = 10");
                crate::labels("l.toml", &text).unwrap()
            })
            .collect()
    }

    fn round(at: &str, product: &str, mg_l: f64) -> Entry {
        let product =
            if product.is_empty() { String::new() } else { format!(",\"product\":{product:?}") };
        let text = format!(
            "{{\"id\":\"{at}\",\"recorded\":\"2026-12-31T00:00:00Z\",\"at\":\"{at}\",\"site\":\"S\",\
             \"event\":{{\"kind\":\"round\",\"plants\":[{{\"plant\":\"A1\"}}]{product},\
             \"feed_strength_mg_l\":{mg_l},\"passes\":1}}}}"
        );
        guardcell::read_request::<Entry>(text.as_bytes()).unwrap()
    }

    fn names(rest: &str, entries: &[Entry], at: &str) -> (String, String, bool) {
        let turn = turn(&site(rest), &labels(), entries, at).unwrap().unwrap();
        (turn.gives.name().to_owned(), turn.next.name().to_owned(), turn.begun)
    }

    /// leaf, leaf, water, counted by hand from one day to the next.
    #[test]
    fn the_rota_goes_on_after_what_came_last() {
        let rota = format!("[grower]\nrota = [\"leaf\", \"leaf\", \"water\"]\n{FEEDS}");
        let mut done = Vec::new();
        let mut seen = Vec::new();
        for day in 1..=7 {
            let at = format!("2026-06-0{day}T07:00:00+01:00");
            let (now, _, begun) = names(&rota, &done, &at);
            assert!(!begun);
            let (product, mg_l) = if now == WATER { ("", 0.0) } else { ("Leaf 20-20-20", 150.0) };
            // Morning and evening of one day are one turn.
            for hour in ["07:30", "19:30"] {
                done.push(round(&format!("2026-06-0{day}T{hour}:00+01:00"), product, mg_l));
                let later = names(&rota, &done, &format!("2026-06-0{day}T20:00:00+01:00"));
                assert_eq!((later.0.as_str(), later.2), (now.as_str(), true));
            }
            seen.push(now);
        }
        assert_eq!(seen, ["leaf", "leaf", "water", "leaf", "leaf", "water", "leaf"]);
    }

    #[test]
    fn months_pass_turns_over_and_a_turn_out_of_order_is_found() {
        let rota = format!("[grower]\nrota = [\"leaf\", \"bloom\", \"water\"]\n{FEEDS}");
        let leaf = [round("2026-06-20T08:00:00+01:00", "leaf 20", 150.0)];
        assert_eq!(names(&rota, &leaf, "2026-06-21T08:00:00+01:00").0, WATER);
        let autumn = [round("2026-10-20T08:00:00+01:00", "Leaf 20-20-20", 150.0)];
        assert_eq!(names(&rota, &autumn, "2026-10-21T08:00:00+01:00").0, "bloom");
        // Water before its turn: the rota begins again with leaf. Another product changes nothing.
        let early = [round("2026-10-20T08:00:00+01:00", "", 0.0)];
        assert_eq!(names(&rota, &early, "2026-10-21T08:00:00+01:00").0, "leaf");
        let other = [round("2026-10-20T08:00:00+01:00", "Moss tea", 150.0)];
        assert_eq!(names(&rota, &other, "2026-10-21T08:00:00+01:00").0, "leaf");
        // Entries after the moment do not count.
        assert_eq!(names(&rota, &autumn, "2026-10-19T08:00:00+01:00").0, "leaf");
    }

    #[test]
    fn without_a_rota_the_feeds_take_turns_by_season() {
        assert_eq!(names(FEEDS, &[], "2026-06-21T08:00:00+01:00").1, "leaf");
        let leaf = [round("2026-10-20T08:00:00+01:00", "Leaf 20-20-20", 150.0)];
        assert_eq!(names(FEEDS, &leaf, "2026-10-21T08:00:00+01:00").0, "bloom");
        let none = turn(&site(""), &labels(), &[], "2026-06-21T08:00:00+01:00").unwrap();
        assert_eq!(none, None);
        assert_eq!(usual_product(&site(FEEDS)).as_deref(), Some("Leaf 20"));
        let named = site(&format!("[grower]\nfeed = \"bloom\"\n{FEEDS}"));
        assert_eq!(usual_product(&named).as_deref(), Some("Bloom 10"));
    }

    #[test]
    fn supplements_go_with_their_feed() {
        let text = "[grower]\nfeed = \"bloom\"\n[[feeds]]\nname = \"leaf\"\n\
                    [[feeds]]\nname = \"bloom\"\n\
                    with = [{ product = \"leaf\", amount = 0.25 }]\n";
        let site = site(text);
        let all = feeds(&site, &labels()).unwrap();
        assert_eq!(all[1].1.mix_name(), "Bloom 10-30-20 with Leaf 20-20-20");
        assert_eq!((all[0].1.with.len(), all[1].1.with[0].amount), (0, 0.25));
        // A round of the mix, as the journal has it, is the turn of the mix.
        let given = [round("2026-06-20T08:00:00+01:00", &all[1].1.mix_name(), 150.0)];
        let next = turn(&site, &labels(), &given, "2026-06-21T08:00:00+01:00").unwrap().unwrap();
        assert_eq!(next.gives.name(), "leaf");
        // By name, out of turn; the other feed stays as it is.
        let named = with_supplements(&site, labels(), &["Bloom".into()]).unwrap();
        let counts: Vec<usize> = named.iter().map(|l| l.with.len()).collect();
        assert_eq!(counts.iter().sum::<usize>(), 1);
        assert_eq!(with_supplements(&site, labels(), &["leaf".into()]).unwrap(), labels());
        assert_eq!(usual_feed(&site).as_deref(), Some("bloom"));
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let at = "2026-06-21T08:00:00+01:00";
        for (rest, pointer) in [
            (
                "[grower]\nrota = [\"leaf\", \"moss\"]\n[[feeds]]\nname = \"leaf\"\n",
                "/grower/rota/1",
            ),
            ("[[feeds]]\nname = \"moss\"\n", "/feeds/0/name"),
            ("[[feeds]]\nname = \"x\"\nproduct = \"2\"\n", "/feeds/0/product"),
            (
                "[[feeds]]\nname = \"leaf\"\nwith = [{ product = \"moss\", amount = 1.0 }]\n",
                "/feeds/0/with/0/product",
            ),
            ("[[feeds]]\nname = \"Water\"\n", "/feeds/0/name"),
            ("[[feeds]]\nname = \"leaf\"\n[[feeds]]\nname = \"Leaf\"\n", "/feeds/1/name"),
            ("[[feeds]]\nname = \"leaf\"\nmonths = [1]\n", "/grower/rota"),
        ] {
            let error = turn(&site(rest), &labels(), &[], at).unwrap_err();
            assert_eq!(error.pointer(), pointer, "{error}");
        }
    }

    #[test]
    fn a_turn_of_water_counts_as_a_turn() {
        let text = "id,name,area,setting,standing,last_fed\n\
                    A1,Vanda,a,potted,ordinary,2026-06-20\nA2,Vanda,a,potted,ordinary,2026-06-20\n";
        let mut plants = crate::collection("c.csv", text).unwrap().plants;
        let water = [round("2026-06-21T08:00:00+01:00", "", 0.0)];
        count_water_turns(&mut plants, &water, "2026-06-22T08:00:00+01:00").unwrap();
        let fed: Vec<_> = plants.iter().map(|p| p.last_fed.as_deref().unwrap()).collect();
        assert_eq!(fed, ["2026-06-21T08:00:00+01:00", "2026-06-20"]);
    }
}
