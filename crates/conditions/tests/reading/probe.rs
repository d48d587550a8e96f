//! Unknown files of invented loggers: what they are taken for, and what is not guessed.

use guardcell_conditions::probe::{DateOrder, FindingCode, Known, Probe, Standing, probe};
use guardcell_conditions::{Map, Options, QuantityName, Read, read_csv, read_json};

const NOW: &str = "2026-06-22T12:00:00Z";

fn known<'a>() -> Known<'a> {
    Known {
        file: "export",
        zone: Some("Atlantic/Azores"),
        area: None,
        date_order: None,
        now: NOW.parse().unwrap(),
    }
}

fn probed(text: &str) -> Probe {
    probe(text.as_bytes(), &known()).unwrap()
}

/// What the proposed map reads, which must be what was shown.
fn read(text: &str) -> Read {
    let found = probed(text);
    let map = found.map.clone().unwrap_or_else(|| panic!("no map: {:#?}", found.findings));
    let options = Options { allow_stale: true, ..Options::at(NOW.parse().unwrap()) };
    let read = match Map::parse(&map, "map").unwrap() {
        Map::Csv(map) => read_csv(&map, text.as_bytes(), "export", &options),
        Map::Json(map) => read_json(&map, text.as_bytes(), "export", &options),
        _ => unreachable!(),
    };
    let read = read.unwrap();
    assert_eq!(Some(&read.report), found.report.as_ref());
    read
}

fn open(text: &str) -> Vec<FindingCode> {
    let found = probed(text);
    assert_eq!(found.map, None, "{:#?}", found.findings);
    found.open().map(|f| f.code).collect()
}

fn standing(text: &str, code: FindingCode) -> Vec<Standing> {
    probed(text).findings.iter().filter(|f| f.code == code).map(|f| f.standing).collect()
}

#[test]
fn semicolons_decimal_commas_preamble_and_a_line_of_units() {
    let text = "Fernhollow Conservatory\nLogger FH-9; temperature and humidity\n\
        Zeit;Temperatur;Feuchte;Batterie\n;°C;%;V\n\
        20.06.2026 23:50;18,5;88,1;3,1\n21.06.2026 00:00;18,4;---;3,1\n\
        21.06.2026 00:10;-999;88,3;3,1\n21.06.2026 00:20;18,2;88,4;3,0\n";
    let read = read(text);
    assert_eq!(read.readings.len(), 2);
    assert_eq!((read.readings[0].temp_c, read.readings[0].rh_percent), (18.5, 88.1));
    // The Azores are at UTC in summer (tz database, Atlantic/Azores).
    assert_eq!(read.readings[0].time, "2026-06-20T23:50:00+00:00");
    let found = probed(text);
    assert_eq!((found.skip_lines, found.rows), (Some(2), 4));
    let battery = found.columns.iter().find(|c| c.column == "Batterie").unwrap();
    assert!(battery.quantity.is_none() && battery.not_read.is_some());
    assert_eq!(standing(text, FindingCode::Missing), [Standing::Assumed]);
    // The last reading is of 00:20: a day and a half before now.
    assert!(found.report.unwrap().stale);
}

#[test]
fn fahrenheit_is_known_by_name_or_by_its_values() {
    let rows = "2026-06-21 05:00,64.4,88\n2026-06-21 06:00,77.0,60\n";
    for head in ["Time,Temp F,RH %", "Time,Temperature,Humidity"] {
        let read = read(&format!("{head}\n{rows}"));
        // (64.4 - 32) / 1.8 = 18, (77 - 32) / 1.8 = 25
        assert_eq!((read.readings[0].temp_c, read.readings[1].temp_c), (18.0, 25.0), "{head}");
    }
    let bare = format!("Time,Temperature,Humidity\n{rows}");
    assert!(standing(&bare, FindingCode::Unit).iter().all(|s| *s == Standing::Decided));
    // 24 and 31 can be °F, -4 and -1 °C; where nothing is fed, that is assumed not to be, and said.
    let warm = "Time,Temperature,Humidity\n2026-06-21 05:00,24,88\n2026-06-21 06:00,31,60\n";
    assert_eq!(read(warm).readings[1].temp_c, 31.0);
    assert!(standing(warm, FindingCode::Unit).contains(&Standing::Assumed));
    let fraction = warm.replace(",88", ",0.88").replace(",60", ",0.6");
    assert_eq!(read(&fraction).readings[0].rh_percent, 88.0);
}

#[test]
fn two_sensors_side_by_side_and_one_below_the_other() {
    let wide = "Timestamp\tHouse temp (°C)\tHouse RH (%)\tShade temp (°C)\tShade RH (%)\n\
        1782014400\t18.5\t88\t17.0\t92\n1782015000\t18.7\t87\t17.1\t91\n";
    let found = read(wide);
    let areas: Vec<&str> = found.readings.iter().filter_map(|r| r.area.as_deref()).collect();
    assert_eq!(areas, ["house", "house", "shade", "shade"]);
    assert_eq!(found.readings[2].temp_c, 17.0);
    // 1782014400 s is 2026-06-21 04:00 UTC: 20625 days of 86400 s and 14400 s.
    assert_eq!(found.readings[0].time, "2026-06-21T04:00:00+00:00");
    let long = "Probe|Time|T °C|RH %\n1|2026-06-21 04:00|18.5|88\n2|2026-06-21 04:00|17.0|92\n\
        1|2026-06-21 05:00|18.7|87\n2|2026-06-21 05:00|17.1|91\n";
    let found = read(long);
    assert_eq!(found.report.areas.len(), 2);
    assert_eq!(found.readings[3].area.as_deref(), Some("2"));
    assert_eq!(standing(long, FindingCode::Area), [Standing::Assumed]);
}

#[test]
fn names_that_do_not_say_what_belongs_together_are_not_paired() {
    let text = "Time,Temp A,Temp B,Temp C,RH X,RH Y\n2026-06-21 05:00,18,19,20,80,81\n\
        2026-06-21 06:00,18,19,20,80,81\n";
    assert_eq!(open(text), [FindingCode::Pair]);
    let no_humidity = "Time,Temp C\n2026-06-21 05:00,18\n";
    assert_eq!(open(no_humidity), [FindingCode::Quantity]);
}

#[test]
fn day_and_month_are_decided_by_a_value_or_not_at_all() {
    let of = |rows: &str| format!("Date,Time,Temp C,RH\n{rows}");
    let day_first = of("05/06/2026,05:00,18,80\n13/06/2026,05:00,18,80\n");
    assert_eq!(read(&day_first).readings[0].time, "2026-06-05T05:00:00+00:00");
    let midnight = of("06/05/2026,23:50,18,80\n06/06/2026,00:00,18,80\n");
    assert_eq!(read(&midnight).readings[0].time, "2026-06-05T23:50:00+00:00");
    let either = of("05/06/2026,05:00,18,80\n05/06/2026,06:00,18,80\n");
    assert_eq!(open(&either), [FindingCode::DateOrder]);
    let stated = Known { date_order: Some(DateOrder::MonthFirst), ..known() };
    let found = probe(either.as_bytes(), &stated).unwrap();
    assert!(found.map.unwrap().contains("%m/%d/%Y %H:%M"));
    assert_eq!(found.report.unwrap().areas[0].from, "2026-05-06T05:00:00+00:00");
}

#[test]
fn thousands_are_no_decimals() {
    let rows = "2026-06-21T11:00:00Z,\"24.5\",60,\"1,013.5\"\n2026-06-21T11:10:00Z,24.6,61,998\n";
    let read = read(&format!("Time,Temp °C,RH %,Solar W/m²\n{rows}"));
    assert_eq!(read.readings[0].radiation_w_m2, Some(1013.5));
    // As thousands 24,500 would be no temperature.
    let comma = "Time;Temp;RH %\n2026-06-21 11:00;24,500;60,000\n2026-06-21 11:10;24,600;61,000\n";
    let found = probed(comma);
    assert_eq!(found.decimal.as_deref(), Some(","));
    assert_eq!(self::read(comma).readings[1].temp_c, 24.6);
}

#[test]
fn what_is_no_air_or_has_no_unit_is_left_out_and_said() {
    let text = "Time (UTC),Temp °C,Dew point °C,RH %,Wind,PPFD,Soil temp °C\n\
        2026-06-21 11:00,24,16,60,0.5,300,20\n2026-06-21 11:10,24,16,60,0.6,310,20\n\
        2026-06-21 12:40,24,16,60,0.6,310,20\n2026-06-21 12:50,24,16,60,0.6,310,20\n";
    let found = probed(text);
    let read: Vec<&str> =
        found.columns.iter().filter(|c| c.quantity.is_some()).map(|c| &*c.column).collect();
    assert_eq!(read, ["Temp °C", "RH %"]);
    let left = found.columns.iter().filter(|c| c.not_read.is_some()).count();
    assert_eq!(left, 4, "{:#?}", found.columns);
    assert_eq!(found.time.unwrap().zone.as_deref(), Some("UTC"));
    // From 11:10 to 12:40 there is nothing.
    let report = found.report.unwrap();
    assert_eq!(report.areas[0].gaps.len(), 1);
    assert_eq!(report.areas[0].gaps[0].hours, 1.5);
}

#[test]
fn a_clock_without_a_zone_is_open() {
    let text = "Time,Temp °C,RH %\n2026-06-21 11:00,24,60\n2026-06-21 11:10,24,60\n";
    let nowhere = Known { zone: None, ..known() };
    let found = probe(text.as_bytes(), &nowhere).unwrap();
    assert_eq!(found.map, None);
    assert_eq!(found.open().map(|f| f.code).collect::<Vec<_>>(), [FindingCode::Zone]);
    let moments = text.replace("11:00,", "11:00:00Z,").replace("11:10,", "11:10:00Z,");
    assert!(probe(moments.as_bytes(), &nowhere).unwrap().map.is_some());
}

#[test]
fn other_encodings_are_read_and_said() {
    let latin = b"Time;T (\xb0F);RH %\n2026-06-21 05:00;64,4;88\n2026-06-21 06:00;66,2;85\n";
    let found = probe(latin, &known()).unwrap();
    assert!(found.findings.iter().any(|f| f.code == FindingCode::Encoding));
    assert_eq!(found.report.unwrap().units[0].stored, "°F");
}

#[test]
fn json_of_rows_of_columns_and_of_series_apart() {
    let rows = r#"{"meta": {"id": 7}, "data": [
        {"ts": 1782014400, "device": "house", "air": {"temp_c": 18.5, "humidity": 0.88}},
        {"ts": 1782014400, "device": "shade", "air": {"temp_c": 17.0, "humidity": 0.92}},
        {"ts": 1782015000, "device": "house", "air": {"temp_c": 18.7, "humidity": 0.87}},
        {"ts": 1782015000, "device": "shade", "air": {"temp_c": 17.1, "humidity": 0.91}}]}"#;
    let found = read(rows);
    assert_eq!(found.readings.len(), 4);
    assert_eq!(found.readings[0].rh_percent, 88.0);
    assert_eq!(found.readings[3].area.as_deref(), Some("shade"));

    let columns = r#"{"hourly_units": {"temperature": "°F", "relative_humidity": "%"},
        "hourly": {"time": ["2026-06-22T13:00", "2026-06-22T14:00"],
        "temperature": [64.4, 66.2], "relative_humidity": [88, 85], "rain": [0, 0]}}"#;
    let found = read(columns);
    // Both are after now: a forecast.
    assert_eq!(found.report.areas[0].forecast, 2);
    assert_eq!(found.readings[0].temp_c, 18.0);
    assert!(probed(columns).map.unwrap().contains("unit_pointer"));

    let apart = r#"{"temperature": [{"at": "2026-06-21T05:00:00Z", "value": 18.5},
        {"at": "2026-06-21T05:10:00Z", "value": 18.6}],
        "humidity": [{"at": "2026-06-21T05:00:20Z", "value": 88},
        {"at": "2026-06-21T05:10:20Z", "value": 87}]}"#;
    let found = read(apart);
    assert_eq!(found.readings.len(), 2);
    assert_eq!(found.readings[1].rh_percent, 87.0);
    assert!(probed(apart).map.unwrap().contains("rows = \"/humidity\""));

    // A unit is that of its own object: the wind of the forecast has none here.
    let both = r#"{"station": {"at": 1782128400, "units": {"temp": "°F", "wind": "km/h"},
        "air": {"temp": 64.4, "rh": 0.88}},
        "forecast": {"time": ["2026-06-22T13:00", "2026-06-22T14:00"], "temp": [18, 19],
        "dew_point": [15, 15], "wind": [4, 5]}}"#;
    let found = read(both);
    assert_eq!(found.readings.len(), 3);
    // (64.4 - 32) / 1.8 = 18
    assert!(found.readings.iter().any(|r| r.temp_c == 18.0 && r.rh_percent == 88.0));
    assert!(found.readings.iter().all(|r| r.air_m_s.is_none()));

    assert_eq!(open("{\"a\": [1, 2, 3]}"), [FindingCode::Layout]);
    assert!(probe(b"{\"a\": ", &known()).is_err());
}

#[test]
fn columns_show_their_quantity_and_unit() {
    let found = probed("Time;T °C;RH %\n2026-06-21 05:00;18,5;88\n2026-06-21 06:00;19,5;85\n");
    let shown: Vec<(Option<QuantityName>, Option<&str>)> =
        found.columns.iter().map(|c| (c.quantity, c.unit.as_deref())).collect();
    assert_eq!(
        shown,
        [
            (None, None),
            (Some(QuantityName::Temperature), Some("Cel")),
            (Some(QuantityName::Humidity), Some("%"))
        ]
    );
}

mod any_text {
    use super::known;
    use guardcell_conditions::probe::probe;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(200))]

        /// Nothing panics, and a map is there exactly where nothing is open.
        #[test]
        fn is_probed_without_a_panic(
            head in "(Time|Date|Temp|RH|T °C|%|[a-z]{0,4})([,;|\t](Time|Temp F|Humidity|[a-z%°]{0,5})){0,5}",
            rows in prop::collection::vec("[-0-9:./ ,;|\tTZ\"]{0,40}", 0..6),
        ) {
            let text = format!("{head}\n{}", rows.join("\n"));
            if let Ok(found) = probe(text.as_bytes(), &known()) {
                prop_assert_eq!(found.map.is_none(), found.open().next().is_some());
                prop_assert_eq!(found.map.is_some(), found.report.is_some());
            }
        }
    }
}
