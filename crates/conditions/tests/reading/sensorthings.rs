//! A service of OGC SensorThings v1.1. The entities have the form of the examples of OGC 18-088
//! (Liang, Khalafbeigi, van der Schaaf: OGC SensorThings API Part 1: Sensing, version 1.1, 2021):
//! the Datastream of an oven in °C (clause on Datastreams), Observations with `phenomenonTime` as an
//! instant or an interval of ISO 8601, collections as `value` with `@iot.nextLink` (clause on
//! `$top` and `$skip`), identifiers of text in quotes (clause on URL components).

use crate::server::{Server, follow};
use guardcell_conditions::report::{Effect, IssueCode};
use serde_json::{Value, json};
use wiremock::matchers::{path, query_param, query_param_contains};
use wiremock::{Mock, ResponseTemplate};

/// The Datastream of the standard's example, with another unit where one is given.
fn datastream(id: &Value, name: &str, unit: &Value) -> Value {
    json!({
        "@iot.id": id,
        "@iot.selfLink": format!("http://example.org/v1.1/Datastreams({id})"),
        "Thing@iot.navigationLink": format!("Datastreams({id})/Thing"),
        "Sensor@iot.navigationLink": format!("Datastreams({id})/Sensor"),
        "ObservedProperty@iot.navigationLink": format!("Datastreams({id})/ObservedProperty"),
        "Observations@iot.navigationLink": format!("Datastreams({id})/Observations"),
        "name": name,
        "description": "This is a datastream measuring the air of a house.",
        "unitOfMeasurement": unit,
        "observationType": "http://www.opengis.net/def/observationType/OGC-OM/2.0/OM_Measurement",
        "observedArea": {
            "type": "Polygon",
            "coordinates": [[[100, 0], [101, 0], [101, 1], [100, 1], [100, 0]]]
        },
        "phenomenonTime": "2014-03-01T13:00:00Z/2015-05-11T15:30:00Z",
        "resultTime": "2014-03-01T13:00:00Z/2015-05-11T15:30:00Z"
    })
}

fn celsius() -> Value {
    json!({
        "name": "degree Celsius",
        "symbol": "°C",
        "definition": "http://unitsofmeasure.org/ucum.html#para-30"
    })
}

fn percent() -> Value {
    json!({ "name": "percent", "symbol": "%", "definition": "ucum:%" })
}

fn observations(of: &[(&str, Value)]) -> Value {
    let value: Vec<Value> = of
        .iter()
        .map(|(time, result)| json!({ "phenomenonTime": time, "result": result }))
        .collect();
    json!({ "value": value })
}

struct Service(Server);

impl Service {
    fn new() -> Self {
        Self(Server::new())
    }

    fn put(&self, at: &str, body: &Value) {
        self.0.mount(
            Mock::given(path(format!("/v1.1/{at}")))
                .respond_with(ResponseTemplate::new(200).set_body_json(body)),
        );
    }

    /// A house with temperature 11 and humidity 12.
    fn house(temperature: &Value, temperatures: &Value, humidities: &Value) -> Self {
        let service = Self::new();
        service.put("Datastreams(11)", &datastream(&json!(11), "House temperature", temperature));
        service.put("Datastreams(12)", &datastream(&json!(12), "House humidity", &percent()));
        service.put("Datastreams(11)/Observations", temperatures);
        service.put("Datastreams(12)/Observations", humidities);
        service
    }

    fn map(&self, more: &str) -> String {
        format!(
            "source = \"sensorthings\"\nurl = \"{}/v1.1/\"\nhttp = {{ retries = 0 }}\n\
             [[series]]\narea = \"house\"\ntemperature = {{ datastream = 11 }}\n\
             humidity = {{ datastream = 12 }}\n{more}",
            self.0.url()
        )
    }
}

fn usual() -> (Value, Value) {
    (
        observations(&[
            ("2026-06-21T04:30:00.000Z", json!(18.5)),
            ("2026-06-21T03:50:00Z/2026-06-21T04:00:00Z", json!("18.1")),
            ("2026-06-21T03:30:00+00:00", json!(17.9)),
        ]),
        observations(&[
            ("2026-06-21T04:30:40Z", json!(88)),
            ("2026-06-21T03:59:30Z", json!(89)),
            ("2026-06-21T03:33:00Z", json!(90)),
        ]),
    )
}

#[test]
fn datastreams_are_joined_on_time_within_the_tolerance() {
    let (t, rh) = usual();
    let service = Service::house(&celsius(), &t, &rh);
    let read = follow(&service.map("")).unwrap();
    let got: Vec<_> =
        read.readings.iter().map(|r| (r.time.as_str(), r.temp_c, r.rh_percent)).collect();
    assert_eq!(
        got,
        [("2026-06-21T04:00:00+00:00", 18.1, 89.0), ("2026-06-21T04:30:00+00:00", 18.5, 88.0),]
    );
    let issues: Vec<_> =
        read.report.issues.iter().map(|i| (i.code, i.effect, i.places[0].as_str())).collect();
    assert_eq!(
        issues,
        [
            (IssueCode::Missing, Effect::Dropped, "Datastreams(11) 2026-06-21T03:30:00Z"),
            (IssueCode::NoPartner, Effect::LeftOut, "Datastreams(12) 2026-06-21T03:33:00Z"),
        ]
    );
    assert_eq!((read.report.rows_read, read.report.readings_possible), (6, 3));
    let asked = service.0.requests();
    let query = asked.iter().find_map(|r| r.url.query()).unwrap();
    for word in ["$orderby=phenomenonTime%20desc", "$top=200", "$filter=phenomenonTime%20ge%20"] {
        assert!(query.contains(word), "{query}");
    }
}

#[test]
fn the_unit_of_the_service_counts_and_is_checked() {
    let (t, rh) = usual();
    let fahrenheit = json!({ "name": "degree Fahrenheit", "symbol": "°F",
        "definition": "http://unitsofmeasure.org/ucum.html#para-30" });
    let t_f = observations(&[("2026-06-21T04:30:00Z", json!(68))]);
    let service = Service::house(&fahrenheit, &t_f, &rh);
    assert_eq!(follow(&service.map("")).unwrap().readings[0].temp_c, 20.0);
    let stated = service.map("").replace("datastream = 11", "datastream = 11, unit = \"Cel\"");
    let words = follow(&stated).unwrap_err().to_string();
    assert!(words.contains("/series/0/temperature/unit") && words.contains("°F"), "{words}");
    // A symbol that means nothing here: the name tells.
    let odd = json!({ "name": "degree Celsius", "symbol": "C", "definition": "" });
    follow(&Service::house(&odd, &t, &rh).map("")).unwrap();
    // Another quantity altogether.
    let metre = json!({ "name": "metre", "symbol": "m", "definition": "ucum:m" });
    let words = follow(&Service::house(&metre, &t, &rh).map("")).unwrap_err().to_string();
    assert!(words.contains("length") && words.contains("right Datastream"), "{words}");
    let none = Service::house(&Value::Null, &t, &rh);
    assert!(follow(&none.map("")).unwrap_err().to_string().contains("states no unit"));
    let stated = none.map("").replace("datastream = 11", "datastream = 11, unit = \"Cel\"");
    follow(&stated).unwrap();
}

#[test]
fn a_filter_must_be_met_by_just_one() {
    let (t, rh) = usual();
    let service = Service::house(&celsius(), &t, &rh);
    let wind = json!({ "name": "km/h", "symbol": "km/h", "definition": "ucum:km/h" });
    let by_name = |name: &str, answer: Value| {
        service.0.mount(
            Mock::given(path("/v1.1/Datastreams"))
                .and(query_param("$filter", format!("name eq '{name}'")))
                .respond_with(ResponseTemplate::new(200).set_body_json(answer)),
        );
    };
    let one = datastream(&json!("wind o'the house"), "Wind", &wind);
    by_name("Wind", json!({ "value": [one] }));
    by_name("Two", json!({ "value": [one, one] }));
    by_name("None", json!({ "value": [] }));
    service.put(
        "Datastreams('wind%20o%27%27the%20house')/Observations",
        &observations(&[("2026-06-21T04:30:00Z", json!(3.6))]),
    );
    let map =
        |name: &str| service.map(&format!("air_speed = {{ filter = \"name eq '{name}'\" }}\n"));
    assert_eq!(follow(&map("Wind")).unwrap().readings[1].air_m_s, Some(1.0));
    let says = |name| follow(&map(name)).unwrap_err().to_string();
    assert!(says("Two").contains("more than one Datastream"));
    assert!(says("None").contains("no Datastream meets it"));
}

#[test]
fn pages_are_followed_within_the_service_and_a_cap() {
    let (_, rh) = usual();
    let service = Service::new();
    service.put("Datastreams(11)", &datastream(&json!(11), "House temperature", &celsius()));
    service.put("Datastreams(12)", &datastream(&json!(12), "House humidity", &percent()));
    service.put("Datastreams(12)/Observations", &rh);
    let page = |skip: &str, body: &Value, priority: u8| {
        service.0.mount(
            Mock::given(path("/v1.1/Datastreams(11)/Observations"))
                .and(query_param_contains("$skip", skip))
                .respond_with(ResponseTemplate::new(200).set_body_json(body))
                .with_priority(priority),
        );
    };
    let mut first = observations(&[("2026-06-21T04:30:00Z", json!(18.5))]);
    first["@iot.nextLink"] =
        json!(format!("{}/v1.1/Datastreams(11)/Observations?$skip=1", service.0.url()));
    let mut second = observations(&[("2026-06-21T04:00:00Z", json!(18.1))]);
    second["@iot.nextLink"] = json!("http://elsewhere.invalid/v1.1/more");
    page("1", &second, 1);
    service.0.mount(
        Mock::given(path("/v1.1/Datastreams(11)/Observations"))
            .respond_with(ResponseTemplate::new(200).set_body_json(&first))
            .with_priority(5),
    );
    let words = follow(&service.map("")).unwrap_err().to_string();
    assert!(
        words.contains("http://elsewhere.invalid") && words.contains("not followed"),
        "{words}"
    );
    let capped = service.map("").replace("http = ", "pages_most = 2\nhttp = ");
    let read = follow(&capped).unwrap();
    assert_eq!(read.readings.len(), 2);
    assert!(read.report.issues.iter().any(|i| i.code == IssueCode::Capped));
}

#[test]
fn what_is_no_service_is_told() {
    let service = Service::new();
    service.0.mount(
        Mock::given(wiremock::matchers::any())
            .respond_with(ResponseTemplate::new(200).set_body_json(json!({ "hello": 1 }))),
    );
    let map = service.map("").replace("datastream = 11", "datastream = 11, unit = \"Cel\"");
    let words = follow(&map).unwrap_err().to_string();
    assert!(words.contains("an object with hello") && words.contains("root of a"), "{words}");
    let (t, rh) = usual();
    let gone = Service::house(&celsius(), &t, &rh);
    let words = follow(&gone.map("").replace("= 12", "= 13")).unwrap_err().to_string();
    assert!(words.contains("/v1.1/Datastreams(13): the service answers 404"), "{words}");
}
