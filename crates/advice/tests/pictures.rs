//! Every mark of a picture lies where its scale says: positions are worked out here from the data
//! of the answer and read back from the SVG.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a test ends where it fails"
)]

mod svg;

use guardcell_advice::chart::{DayRibbonRequest, StrengthChartRequest, ribbon, strength_chart};
use jiff::Timestamp;
use serde_json::json;
use svg::{Element, elements, near};

trait Placed {
    fn at(&self) -> (f64, f64);
    fn size(&self) -> (f64, f64);
    fn is_upright(&self) -> bool;
    fn is_level(&self) -> bool;
}

impl Placed for Element {
    fn at(&self) -> (f64, f64) {
        (self.number("x"), self.number("y"))
    }

    fn size(&self) -> (f64, f64) {
        (self.number("width"), self.number("height"))
    }

    fn is_upright(&self) -> bool {
        self.name == "line" && self.number("x1") == self.number("x2")
    }

    fn is_level(&self) -> bool {
        self.name == "line" && self.number("y1") == self.number("y2")
    }
}

/// Width and height of a picture, and what is drawn on its ground.
fn drawn(svg: &str) -> ((f64, f64), Vec<Element>) {
    let frame: Vec<f64> = svg
        .split("viewBox=\"0 0 ")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .split(' ')
        .map(|n| n.parse().unwrap())
        .collect();
    ((frame[0], frame[1]), elements(svg))
}

fn text<'a>(all: &'a [Element], says: &str) -> &'a Element {
    all.iter().find(|e| e.says(says)).unwrap_or_else(|| panic!("{says}"))
}

#[test]
fn cells_of_the_strength_chart_lie_under_their_air_and_beside_their_humidity() {
    let feed = json!({"name": "Test 13-2-13",
        "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
        "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}});
    // An eye so keen that in dry air hardly anything may be given, and one that sees little.
    for (threshold, hatched) in [(0.004, true), (0.08, false)] {
        let mut request =
            StrengthChartRequest::new(serde_json::from_value(feed.clone()).unwrap(), 22.0);
        request.residue_threshold_g_m2 = Some(threshold);
        let chart = strength_chart(&request).unwrap();
        let ((width, height), all) = drawn(&chart.svg());
        let cells: Vec<&Element> = all.iter().filter(|e| e.is("rect", "stroke", "#888")).collect();
        assert_eq!(cells.len(), chart.cells.len());
        let (w, h) = cells[0].size();
        let (left, top) = cells
            .iter()
            .map(|c| c.at())
            .fold((f64::MAX, f64::MAX), |a, b| (a.0.min(b.0), a.1.min(b.1)));
        assert_eq!(chart.cells.iter().any(|c| c.strength_mg_l <= 0.0), hatched);

        // Head of each column: the word over the speed, centred over its cells.
        for (i, column) in chart.air.iter().enumerate() {
            let speed = text(&all, &format!("{} m/s", column.m_s));
            near(speed.number("x"), left + w * (i as f64 + 0.5));
            assert!((top - 15.0..top).contains(&speed.number("y")));
            let word = all
                .iter()
                .find(|e| e.name == "text" && e.at() == (speed.at().0, speed.at().1 - 16.0));
            assert_eq!(word.unwrap().attributes["text-anchor"], "middle");
        }
        let mut rows: Vec<f64> = chart.cells.iter().map(|c| c.rh_percent).collect();
        rows.dedup();
        rows.sort_by(f64::total_cmp);
        rows.dedup();
        for (n, cell) in chart.cells.iter().enumerate() {
            let row = text(&all, &format!("{:.0} % RH", cell.rh_percent));
            assert_eq!(row.attributes["text-anchor"], "end");
            assert!(row.number("x") < left && row.number("x") > left - 20.0);
            // The base line of the row's name is inside the row.
            let y = cells
                .iter()
                .map(|c| c.number("y"))
                .find(|y| (*y..y + h).contains(&row.number("y")))
                .unwrap();
            let column = chart.air.iter().position(|a| a.word == cell.air).unwrap();
            let at = (left + w * column as f64, y);
            let own = cells.iter().find(|c| c.at() == at).unwrap_or_else(|| panic!("{n} {at:?}"));
            assert_eq!(own.size(), (w, h));
            let inside = |e: &Element| {
                (at.0..at.0 + w).contains(&e.number("x"))
                    && (at.1..at.1 + h).contains(&e.number("y"))
            };
            let texts: Vec<&Element> =
                all.iter().filter(|e| e.name == "text" && inside(e)).collect();
            let [strength, dries] = texts[..] else { panic!("{} texts", texts.len()) };
            for t in [strength, dries] {
                near(t.number("x"), at.0 + w / 2.0);
                assert_eq!(t.attributes["text-anchor"], "middle");
            }
            // One line under the other, the first not above the cell, the second not below it.
            assert!(
                strength.number("y") >= at.1 + 14.0
                    && dries.number("y") >= strength.number("y") + 10.0
            );
            assert!(dries.number("y") <= at.1 + h - 4.0);
            let fill = &own.attributes["fill"];
            let taken = format!("{:.1} %", cell.share_taken_up * 100.0);
            if cell.strength_mg_l > 0.0 {
                assert_eq!(strength.text, format!("{:.0}", cell.strength_mg_l));
                let expected = match cell.dry_minutes {
                    None => format!("stays wet; {taken}"),
                    Some(m) if m < 90.0 => format!("{m:.0} min; {taken}"),
                    Some(m) => format!("{:.1} h; {taken}", m / 60.0),
                };
                assert_eq!(dries.text, expected);
                // Near white for nothing, 110 darker for the most of the chart.
                let shade: f64 =
                    fill.trim_start_matches("rgb(").split(',').next().unwrap().parse().unwrap();
                assert!(
                    (shade - (245.0 - 110.0 * cell.strength_mg_l / chart.most_mg_l)).abs() <= 0.5
                );
            } else {
                assert_eq!((strength.text.as_str(), fill.as_str()), ("none", "url(#hatch)"));
                assert!(dries.text.is_empty());
                // A white label in the middle of the hatching, as far from either side.
                let label = all.iter().find(|e| e.is("rect", "fill", "#fff") && inside(e)).unwrap();
                let ((x, y), (lw, lh)) = (label.at(), label.size());
                near(x - at.0, at.0 + w - (x + lw));
                near(y - at.1, at.1 + h - (y + lh));
            }
            // A heavy outline just inside the cell from 300 mg/L on.
            let outline = all.iter().find(|e| e.is("rect", "stroke-width", "2.5") && inside(e));
            assert_eq!(outline.is_some(), cell.strength_mg_l >= 300.0);
            if let Some(outline) = outline {
                let ((x, y), (ow, oh)) = (outline.at(), outline.size());
                assert_eq!((x - at.0, y - at.1), (1.5, 1.5));
                assert_eq!((ow, oh), (w - 3.0, h - 3.0));
            }
        }
        // The legend under the chart, its lines one under the other, inside the picture.
        let bottom = top + h * rows.len() as f64;
        near(width, left + w * chart.air.len() as f64 + 24.0);
        let legend: Vec<f64> = all
            .iter()
            .filter(|e| e.name == "text" && e.number("y") > bottom)
            .map(|e| e.number("y"))
            .collect();
        assert!(
            legend.len() >= 2 && legend[0] > bottom + 10.0 && legend[legend.len() - 1] < height
        );
        assert!(legend.windows(2).all(|l| l[1] - l[0] == 16.0));
        // Title and what the cells hold, above the heads of the columns.
        let tolerance = format!("at most {:.0} % probable", chart.tolerance * 100.0);
        let subtitle = all.iter().find(|e| e.text.ends_with(&tolerance)).unwrap();
        assert!(subtitle.number("y") < top - 40.0);
    }
}

#[test]
fn the_chart_for_a_terminal_has_the_numbers_of_its_cells() {
    let feed = json!({"name": "Test 13-2-13",
        "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
        "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}});
    let mut request = StrengthChartRequest::new(serde_json::from_value(feed).unwrap(), 22.0);
    request.residue_threshold_g_m2 = Some(0.004);
    let chart = strength_chart(&request).unwrap();
    let lines = chart.terminal();
    let mut seen = 0;
    for rh in [95.0, 80.0, 60.0, 40.0] {
        let row = lines.iter().find(|l| l.trim_start().starts_with(&format!("{rh:.0} %"))).unwrap();
        let found: Vec<&str> = row.split_whitespace().skip(2).collect();
        let mut expected = Vec::new();
        for column in &chart.air {
            let cell = chart.cells.iter().find(|c| c.rh_percent == rh && c.air == column.word);
            let cell = cell.unwrap();
            seen += 1;
            if cell.strength_mg_l > 0.0 {
                expected.push(format!("{:.0}", cell.strength_mg_l));
                expected.push(format!("{:.1}", cell.share_taken_up * 100.0));
                expected.push("%".to_owned());
            } else {
                expected.push("none".to_owned());
            }
        }
        assert_eq!(found, expected, "{row}");
    }
    assert!(seen >= 8);
    assert!(lines.iter().any(|l| l.contains("none")) && lines.iter().any(|l| !l.contains("none")));
}

#[test]
fn hours_humidity_openings_and_windows_of_a_day_lie_at_their_time() {
    let example = include_str!("../calls/day_ribbon.json");
    let mut request: DayRibbonRequest = serde_json::from_str(example).unwrap();
    // A plant of another pathway: two rows.
    let mut other = request.situation.plants[0].clone();
    (other.id, other.name) = ("other".into(), "Phragmipedium besseae".into());
    request.situation.plants.push(other);
    let day = ribbon(&request).unwrap();
    assert!(day.groups.len() >= 2, "{:?}", day.groups);
    let ((_, height), all) = drawn(&day.svg());

    let lit_ground = all.iter().find(|e| e.is("rect", "fill", "#2b3a4d")).unwrap();
    let ((left, top), (width, light)) = (lit_ground.at(), lit_ground.size());
    let time = |text: &str| text.parse::<Timestamp>().unwrap();
    let start = time(&day.from);
    let x = |t: Timestamp| {
        left + width * (t.duration_since(start).as_secs_f64() / 86_400.0).clamp(0.0, 1.0)
    };

    // Light: white over its ground.
    let lit: Vec<&Element> = all.iter().filter(|e| e.is("rect", "stroke-width", "1.5")).collect();
    assert_eq!(lit.len(), day.lit.len());
    for (drawn, (a, b)) in lit.iter().zip(&day.lit) {
        near(drawn.number("x"), x(time(a)));
        near(drawn.number("width"), x(time(b)) - x(time(a)));
        assert_eq!((drawn.number("y"), drawn.number("height")), (top, light));
    }

    // Every third hour: nine lines from above the light to below the rows, the hour above each.
    let hours: Vec<&Element> =
        all.iter().filter(|e| e.is("line", "stroke", "#ccc") && e.is_upright()).collect();
    assert_eq!(hours.len(), 9);
    let first: u32 = day.from[11..13].parse().unwrap();
    for (i, line) in hours.iter().enumerate() {
        near(line.number("x1"), left + width * i as f64 / 8.0);
        assert!((top - 8.0..top).contains(&line.number("y1")));
        assert!((height - 60.0..height - 40.0).contains(&line.number("y2")));
        let label = all.iter().find(|e| {
            e.is("text", "text-anchor", "middle")
                && e.number("x") == line.number("x1")
                && e.number("y") < line.number("y1")
        });
        let hour = (first + 3 * u32::try_from(i).unwrap()) % 24;
        assert_eq!(label.unwrap().text, format!("{hour:02}{}", &day.from[13..16]));
        assert!(label.unwrap().number("y") > top - 14.0);
    }

    // Humidity: four lines named at their right end, even distances, and the course between them.
    let levels: Vec<f64> = [40.0, 60.0, 80.0, 100.0]
        .iter()
        .map(|rh| {
            let name = all.iter().find(|e| e.name == "text" && e.text == format!("{rh:.0}"));
            let name = name.unwrap();
            let right = left + width;
            assert!((right..right + 12.0).contains(&name.number("x")));
            let line = all.iter().find(|e| {
                e.is("line", "stroke", "#ddd")
                    && e.is_level()
                    && e.number("y1") == name.number("y") - 4.0
            });
            let line = line.unwrap();
            assert_eq!((line.number("x1"), line.number("x2")), (left, left + width));
            line.number("y1")
        })
        .collect();
    let step = levels[0] - levels[1];
    assert!(step > 15.0 && levels.windows(2).all(|l| (l[0] - l[1] - step).abs() < 0.11));
    assert!(levels[3] > top + light + 10.0);
    let course = all.iter().find(|e| e.name == "polyline").unwrap().points();
    assert_eq!(course.len(), day.air.len());
    for ((px, py), air) in course.iter().zip(&day.air) {
        near(*px, x(time(&air.time)));
        let rh = air.rh_percent.clamp(20.0, 100.0);
        assert!((py - (levels[3] + step * (100.0 - rh) / 20.0)).abs() < 0.2, "{py} {rh}");
    }

    // A row for each group, one under the other, below the humidity.
    let bases: Vec<&Element> = all.iter().filter(|e| e.is("line", "stroke", "#888")).collect();
    assert_eq!(bases.len(), day.groups.len());
    assert!(bases[0].number("y1") - 30.0 > levels[0]);
    assert!(bases.windows(2).all(|b| b[1].number("y1") - b[0].number("y1") == 70.0));
    assert!(bases[bases.len() - 1].number("y1") + 13.0 < hours[0].number("y2"));
    let mut windows = 0;
    for (base, group) in bases.iter().zip(&day.groups) {
        let y = base.number("y1");
        assert!(base.is_level() && (base.number("x1"), base.number("x2")) == (left, left + width));
        let name = all.iter().find(|e| {
            e.name == "text"
                && e.text.starts_with(&group.name)
                && (y - 40.0..y - 30.0).contains(&e.number("y"))
        });
        assert_eq!(name.unwrap().number("x"), left);
        let plants = match group.plants.len() {
            1 => "1 plant".to_owned(),
            n => format!("{n} plants"),
        };
        assert_eq!(name.unwrap().text, format!("{}, {plants}", group.name));
        // Openings stand on the line, as high as they are probable.
        let bars: Vec<&Element> = all
            .iter()
            .filter(|e| {
                e.is("rect", "fill", "#9fcfa6")
                    && (e.number("y") + e.number("height") - y).abs() < 0.11
            })
            .collect();
        assert_eq!(bars.len(), group.openings.len());
        for (bar, o) in bars.iter().zip(&group.openings) {
            let (a, b) = (x(time(&o.start)), x(time(&o.end)));
            near(bar.number("x"), a);
            near(bar.number("width"), b - a);
            near(bar.number("height"), 26.0 * o.probability.clamp(0.05, 1.0));
        }
        // The best window: a frame higher than any opening, its strength centred under it.
        let frame =
            all.iter().find(|e| e.is("rect", "stroke-width", "3") && e.number("y") == y - 30.0);
        assert_eq!(frame.is_some(), group.best.is_some());
        if let (Some(frame), Some(best)) = (frame, &group.best) {
            windows += 1;
            let (a, b) = (x(time(&best.start)), x(time(&best.end)));
            near(frame.number("x"), a);
            near(frame.number("width"), b - a);
            assert_eq!(frame.number("height"), 32.0);
            let label = all.iter().find(|e| {
                e.is("text", "font-weight", "bold") && (y + 10.0..y + 20.0).contains(&e.number("y"))
            });
            let label = label.unwrap();
            near(label.number("x"), f64::midpoint(a, b));
            assert_eq!(label.text, format!("{:.0} mg/L", best.feed_strength_mg_l));
        }
    }
    assert!(windows > 0);
    let key = all.iter().find(|e| e.text.starts_with("Bar on top")).unwrap();
    assert!(key.number("y") > hours[0].number("y2") && key.number("y") < height);
}
