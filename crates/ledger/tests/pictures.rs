//! Every mark of a picture lies where its scale says: positions are worked out here from the data
//! of the answer and read back from the SVG.

#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test ends where it fails")]

#[path = "../../advice/tests/svg/mod.rs"]
mod svg;

use guardcell_ledger::{LedgerRequest, Level, ThresholdRequest, learn_threshold, ledger};
use serde_json::json;
use std::collections::HashMap;
use svg::{Element, elements, near};

trait Mark {
    fn is_mark(&self) -> bool;
    /// Where a mark was moved to.
    fn moved(&self) -> (f64, f64);
}

impl Mark for Element {
    fn is_mark(&self) -> bool {
        self.name == "path"
    }

    fn moved(&self) -> (f64, f64) {
        let inner = self.attributes["transform"].trim_start_matches("translate(");
        let (x, y) = inner.trim_end_matches(')').split_once(' ').unwrap();
        (x.parse().unwrap(), y.parse().unwrap())
    }
}

#[test]
fn marks_of_the_threshold_lie_on_its_logarithmic_scale() {
    let example = include_str!("../calls/threshold.json");
    let mut request: ThresholdRequest = serde_json::from_str(example).unwrap();
    for (i, level) in [(0, Level::Clear), (1, Level::Heavy)] {
        let mut look = request.observations[i].clone();
        look.level = level;
        look.day = format!("2026-06-2{}", 4 + i);
        look.feed_g_m2 = Some(0.05 + 0.03 * i as f64);
        request.observations.push(look);
    }
    let answer = learn_threshold(&request).unwrap();
    let all = elements(&answer.to_svg());

    // The ticks: a line down from the axis, its number centred under it.
    let lines: Vec<&Element> = all.iter().filter(|e| e.name == "line").collect();
    let axis = lines.iter().find(|l| l.is("line", "stroke-width", "2")).unwrap();
    let (left, right, floor) = (axis.number("x1"), axis.number("x2"), axis.number("y1"));
    assert_eq!((axis.number("y2"), left < right), (floor, true));
    let ticks: Vec<(f64, f64)> = lines
        .iter()
        .filter(|l| l.number("x1") == l.number("x2") && l.number("y2") == floor + 6.0)
        .map(|l| {
            let x = l.number("x1");
            let label =
                all.iter().find(|e| e.is("text", "text-anchor", "middle") && e.number("x") == x);
            let label = label.unwrap();
            // Below the tick: a letter of 12 units high does not touch it.
            assert!((floor + 18.0..floor + 24.0).contains(&label.number("y")));
            (label.text.parse().unwrap(), x)
        })
        .collect();
    assert!(ticks.len() >= 3, "{ticks:?}");
    let ((g0, x0), (g1, x1)) = (ticks[0], ticks[ticks.len() - 1]);
    let x = |g: f64| (x0 + (x1 - x0) * (g / g0).ln() / (g1 / g0).ln()).clamp(left, right);
    for (g, at) in &ticks {
        near(*at, x(*g));
    }

    // The curves: as wide as the axis, the higher one to the top, densities in proportion.
    let curves: Vec<_> = all.iter().filter(|e| e.name == "polyline").map(Element::points).collect();
    let [prior, posterior] = &curves[..] else { panic!("{} curves", curves.len()) };
    let top = curves.iter().flatten().map(|p| p.1).fold(f64::INFINITY, f64::min);
    let most =
        answer.curve.iter().map(|c| c.prior_density.max(c.posterior_density)).fold(0.0, f64::max);
    for (drawn, density) in [
        (
            prior,
            answer.curve.iter().map(|c| (c.threshold_g_m2, c.prior_density)).collect::<Vec<_>>(),
        ),
        (posterior, answer.curve.iter().map(|c| (c.threshold_g_m2, c.posterior_density)).collect()),
    ] {
        near(drawn[0].0, left);
        near(drawn[drawn.len() - 1].0, right);
        for (px, py) in drawn {
            let known = density.iter().filter(|(g, _)| (x(*g) - px).abs() < 0.25);
            let height = |d: &f64| floor - (floor - top) * d / most;
            assert!(known.clone().count() > 0, "no density at {px}");
            assert!(known.clone().any(|(_, d)| (height(d) - py).abs() < 0.2), "{px} {py}");
        }
    }

    // Median and interval.
    let p = answer.posterior;
    let median = lines.iter().find(|l| l.number("x1") == l.number("x2") && l.number("y2") < floor);
    let median = median.unwrap();
    near(median.number("x1"), x(p.median_g_m2));
    assert_eq!((median.number("y1"), median.number("y2")), (floor, top));
    let hatched = all.iter().find(|e| e.name == "polygon").unwrap().points();
    let (first, last) = (hatched[0], hatched[hatched.len() - 1]);
    near(first.0, x(p.low_g_m2));
    near(last.0, x(p.high_g_m2));
    assert_eq!((first.1, last.1), (floor, floor));

    // The reports, each on the row of its level.
    let rows: HashMap<&str, f64> = all
        .iter()
        .filter(|e| {
            e.is("text", "text-anchor", "end") && Level::ALL.iter().any(|l| l.word() == e.text)
        })
        .map(|e| (e.text.as_str(), e.number("y") - 4.0))
        .collect();
    let heights: Vec<f64> = Level::ALL.iter().map(|l| rows[l.word()]).collect();
    assert!(heights[0] > floor + 40.0 && heights.windows(2).all(|w| w[1] - w[0] == 15.0));
    let marks: Vec<(f64, f64)> = all.iter().filter(|e| e.is_mark()).map(Mark::moved).collect();
    assert_eq!(marks.len(), answer.evidence.len());
    let mut shapes = HashMap::new();
    for ((mark, e), path) in
        marks.iter().zip(&answer.evidence).zip(all.iter().filter(|e| e.is_mark()))
    {
        near(mark.0, x(e.observation.feed_g_m2.unwrap()));
        near(mark.1, rows[e.observation.level.word()]);
        let look = (path.attributes["d"].clone(), path.attributes["fill"].clone());
        assert!(shapes.insert(look, e.observation.level).is_none_or(|l| l == e.observation.level));
    }
    for y in rows.values() {
        let row = lines.iter().find(|l| l.number("y1") == *y).unwrap();
        assert_eq!((row.number("x1"), row.number("x2"), row.number("y2")), (left, right, *y));
    }

    // The key: a piece of each line, its words right of it, inside the picture.
    for (words, dashed) in [("before the reports", true), ("now; interval hatched", false)] {
        let text = all.iter().find(|e| e.says(words)).unwrap();
        let piece = lines
            .iter()
            .find(|l| (l.number("y1") - (text.number("y") - 4.0)).abs() < 0.01)
            .unwrap();
        assert_eq!(piece.attributes.contains_key("stroke-dasharray"), dashed);
        assert_eq!(piece.number("x2") - piece.number("x1"), 34.0);
        assert_eq!(text.number("x") - piece.number("x2"), 8.0);
        assert!(text.number("x") + 150.0 <= 720.0 && text.number("y") < top);
    }
}

#[test]
fn bars_of_the_ledger_are_as_high_as_the_feed() {
    let given = |id: &str, at: &str, event: serde_json::Value| {
        json!({"id": id, "recorded": "2026-07-06T06:40:00Z", "at": format!("2026-{at}T08:00:00+01:00"),
               "site": "Fernhollow", "event": event})
    };
    let root = |ml: f64, mg_l: f64| {
        json!({"kind": "root_feed", "feed_strength_mg_l": mg_l,
        "plants": [{"plant": "FH-012", "volume_ml": ml}]})
    };
    let round = json!({"kind": "round", "plants": [{"plant": "FH-012"}], "feed_strength_mg_l": 300,
        "passes": 1, "volume_ml": 60});
    let request: LedgerRequest = serde_json::from_value(json!({
        "entries": [
            given("a", "06-16", root(200.0, 300.0)),
            given("b", "06-17", round.clone()),
            given("c", "06-24", root(100.0, 150.0)),
            given("d", "06-25", json!({"kind": "flush", "plants": ["FH-012"], "volume_ml": 1000})),
            given("e", "07-01", round),
            given("f", "07-02", json!({"kind": "residue", "plants": ["FH-012"], "level": "faint",
                "place": "leaf", "nature": "unknown"})),
        ],
        "plants": [
            {"id": "FH-011", "name": "Phalaenopsis amabilis", "area": "house", "setting": "mounted",
             "standing": "established"},
            {"id": "FH-012", "name": "Phalaenopsis bellina", "area": "house", "setting": "potted",
             "standing": "ordinary", "pot_l": 0.8},
        ],
        "from": "2026-06-15",
        "at": "2026-07-05T18:00:00+01:00",
    }))
    .unwrap();
    let answer = ledger(&request).unwrap();
    let all = elements(&answer.to_svg());
    let weeks = answer.plants[0].weeks.len();
    assert!(weeks >= 3);

    // One floor a plant, in the order of the answer.
    let floors: Vec<&Element> = all
        .iter()
        .filter(|e| e.is("line", "stroke-width", "0.75") && e.number("y1") == e.number("y2"))
        .collect();
    assert_eq!(floors.len(), answer.plants.len());
    assert_eq!(floors[1].number("y1") - floors[0].number("y1"), 92.0);
    let fed = answer.plants.iter().position(|p| p.id == "FH-012").unwrap();
    let plant = &answer.plants[fed];
    let floor = floors[fed].number("y1");
    let (left, right) = (floors[fed].number("x1"), floors[fed].number("x2"));
    let step = (right - left) / weeks as f64;
    let most = plant
        .weeks
        .iter()
        .map(|w| w.total_mg().max(w.ceiling_mg.unwrap_or(0.0)))
        .fold(0.0, f64::max);
    let high = |mg: f64| 52.0 * mg / most;

    // The name above the bars, and what the full height means.
    let name = all.iter().find(|e| e.name == "text" && e.text.starts_with("FH-012")).unwrap();
    assert!(name.number("y") < floor - 52.0 && name.number("y") > floor - 92.0);
    let scale = all.iter().filter(|e| e.text.ends_with(" mg") && e.name == "text");
    let scale: Vec<_> =
        scale.filter(|e| e.number("y") < floor && e.number("y") > floor - 52.0).collect();
    assert_eq!(scale.len(), 1);
    assert!(scale[0].number("x") < left);
    let stated: f64 = scale[0].text.trim_end_matches(" mg").parse().unwrap();
    assert!((stated / most - 1.0).abs() < 0.005, "{stated} {most}");

    // Leaf white from the floor, root black on top of it.
    let bars: Vec<&Element> = all
        .iter()
        .filter(|e| e.name == "rect" && e.attributes.contains_key("x") && e.number("y") > 60.0)
        .collect();
    let mut expected = Vec::new();
    for (i, w) in plant.weeks.iter().enumerate() {
        let x = left + step * i as f64 + 1.0;
        let (leaf, root) = (high(w.leaf_mg), high(w.root_mg));
        if leaf > 0.0 {
            expected.push((x, floor - leaf, leaf, "#fff"));
        }
        if root > 0.0 {
            expected.push((x, floor - leaf - root, root, "#000"));
        }
    }
    assert_eq!(bars.len(), expected.len());
    assert!(expected.len() >= 4, "{expected:?}");
    for (bar, (x, y, height, fill)) in bars.iter().zip(expected) {
        near(bar.number("x"), x);
        near(bar.number("y"), y);
        near(bar.number("height"), height);
        near(bar.number("width"), step - 2.0);
        assert_eq!(bar.attributes["fill"], fill);
    }

    // The ceiling, white below and dashed above, as high as it is.
    let ceiling = plant.weeks.iter().find_map(|w| w.ceiling_mg).unwrap();
    for style in [("stroke-width", "4.5"), ("stroke-dasharray", "6 4")] {
        let line =
            all.iter().find(|e| e.is("line", style.0, style.1) && e.number("y1") > 60.0).unwrap();
        near(line.number("y1"), floor - high(ceiling));
        assert_eq!(line.number("y1"), line.number("y2"));
        assert_eq!((line.number("x1"), line.number("x2")), (left, right));
    }

    // A flush below the floor and white above the bars, in the middle of their weeks.
    let marks: Vec<(f64, f64)> = all.iter().filter(|e| e.is_mark()).map(Mark::moved).collect();
    let middle = |found: &dyn Fn(&guardcell_ledger::PlantWeek) -> bool| {
        left + step * (plant.weeks.iter().position(found).unwrap() as f64 + 0.5)
    };
    let flush = (middle(&|w| w.flushes > 0), floor + 6.0);
    let white = (middle(&|w| w.residue.is_some()), floor - 56.0);
    for (mark, wanted) in marks.iter().filter(|m| m.1 > 60.0).zip([flush, white]) {
        near(mark.0, wanted.0);
        near(mark.1, wanted.1);
    }

    // Week numbers under the floor with room for each.
    let labels: Vec<&Element> = all
        .iter()
        .filter(|e| e.is("text", "font-size", "10") && e.number("y") == floor + 20.0)
        .collect();
    assert!(!labels.is_empty() && labels[0].text == plant.weeks[0].week);
    for pair in labels.windows(2) {
        assert!(pair[1].number("x") - pair[0].number("x") >= 48.0);
    }
    for label in &labels {
        let week = plant.weeks.iter().position(|w| w.week == label.text).unwrap();
        near(label.number("x"), left + step * week as f64);
    }

    // The key: each sign left of its word and on its line, one after the other.
    let words = ["leaf", "root", "ceiling of the pot", "flush", "residue seen"];
    let texts: Vec<&Element> =
        words.iter().map(|w| all.iter().find(|e| e.says(w)).unwrap()).collect();
    assert!(texts.windows(2).all(|t| t[0].number("x") < t[1].number("x")));
    let signs = all.iter().filter_map(|e| match e.name.as_str() {
        "rect" if e.attributes.contains_key("x") && e.number("y") < 60.0 => {
            Some((e.number("x") + 12.0, e.number("y") + e.number("height") / 2.0))
        }
        "line" if e.number("y1") < 60.0 => Some((e.number("x2"), e.number("y1"))),
        "path" if e.is_mark() && e.moved().1 < 60.0 => Some((e.moved().0 + 4.0, e.moved().1)),
        _ => None,
    });
    let signs: Vec<(f64, f64)> = signs.collect();
    assert_eq!(signs.len(), words.len());
    for (sign, text) in signs.iter().zip(&texts) {
        assert!((4.0..=7.0).contains(&(text.number("x") - sign.0)), "{sign:?} {}", text.text);
        near(sign.1, text.number("y") - 4.0);
    }
}

/// Columns a month apart, bars in proportion to what was counted, marks to what was measured.
#[test]
fn growth_stands_in_the_column_of_its_month() {
    let grew = |at: &str, measure: &str, value: f64| {
        json!({"id": format!("{at}-{measure}"), "recorded": "2027-03-01T00:00:00Z",
            "at": format!("{at}T09:00:00Z"), "site": "S",
            "event": {"kind": "growth", "plants": ["A"], "measure": measure, "value": value}})
    };
    let entries = json!([
        grew("2026-11-03", "new_root", 1.0),
        grew("2026-11-20", "new_root", 3.0),
        grew("2027-02-05", "new_root", 2.0),
        grew("2026-11-03", "weight_g", 90.0),
        grew("2027-02-05", "weight_g", 120.0),
        grew("2026-12-01", "new_leaf", 0.0),
    ]);
    let entries = serde_json::from_value(entries).unwrap();
    let books = ledger(&LedgerRequest::new(entries, "2027-03-01T09:00:00Z")).unwrap();
    let all = elements(&books.growth_svg());

    // November to February: four months from one line end to the other, two rows.
    let lines: Vec<&Element> = all.iter().filter(|e| e.name == "line").collect();
    assert_eq!(lines.len(), 2, "a row of roots and one of weights; leaves were looked for only");
    let (left, right) = (lines[0].number("x1"), lines[0].number("x2"));
    let step = (right - left) / 4.0;

    // 1 + 3 roots in November, 2 in February: the one bar twice as high as the other, on the line.
    let bars: Vec<&Element> = all.iter().filter(|e| e.name == "rect").collect();
    let [november, february] = &bars[..] else { panic!("{} bars", bars.len()) };
    near(november.number("height"), 2.0 * february.number("height"));
    for (bar, month) in [(november, 0.0), (february, 3.0)] {
        near(bar.number("y") + bar.number("height"), lines[0].number("y1"));
        let middle = bar.number("x") + bar.number("width") / 2.0;
        near(middle, left + step * (month + 0.5));
        let above = all.iter().find(|e| e.says(if month == 0.0 { "4" } else { "2" })).unwrap();
        near(above.number("x"), middle);
    }

    // 90 g and 120 g: marks at 3/4 and 4/4 of the height.
    let marks: Vec<(f64, f64)> = all.iter().filter(|e| e.is_mark()).map(Mark::moved).collect();
    let floor = lines[1].number("y1");
    let [first, second] = marks[..] else { panic!("{marks:?}") };
    near((floor - first.1) / (floor - second.1), 0.75);
    near(first.0, left + step * 0.5);
    near(second.0, left + step * 3.5);
    for month in ["2026-11", "2027-02"] {
        assert!(all.iter().any(|e| e.says(month)), "{month}");
    }
}

/// Reports far above what was thought before: the axis reaches to where the threshold now lies.
#[test]
fn the_axis_holds_what_is_known_now() {
    let example = include_str!("../calls/threshold.json");
    let mut request: ThresholdRequest = serde_json::from_str(example).unwrap();
    let look = request.observations[0].clone();
    request.observations = (1..=24)
        .map(|day| {
            let mut look = look.clone();
            look.level = Level::None;
            look.day = format!("2026-05-{day:02}");
            look.feed_g_m2 = Some(2.0);
            look.at = None;
            look
        })
        .collect();
    let answer = learn_threshold(&request).unwrap();
    let p = answer.posterior;
    assert!(p.low_g_m2 > answer.prior.high_g_m2, "the reports say much more than the prior");
    let all = elements(&answer.to_svg());
    let axis = all.iter().find(|e| e.is("line", "stroke-width", "2")).unwrap();
    let hatched = all.iter().find(|e| e.name == "polygon").unwrap().points();
    let (first, last) = (hatched[0].0, hatched[hatched.len() - 1].0);
    assert!(first < last - 1.0 && last < axis.number("x2") - 1.0, "{first} to {last}");
    // What the axis counts stands below its numbers.
    let title = all.iter().find(|e| e.text.starts_with("residue, g/m")).unwrap();
    assert!(title.number("y") > axis.number("y1") + 24.0, "{}", title.number("y"));
}
