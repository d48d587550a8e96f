//! A function is added by its own type and one entry of the list: the server, the client, the API
//! description and the call by name follow.

mod support;

use guardcell::calls::{ALL, AnyCall, Call, Group};
use guardcell::{Code, Error};
use guardcell_client::Client;
use guardcell_server::Config;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use support::{config, root, start};

/// A request of the new function.
#[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PotRequest {
    /// Diameter at the rim, cm.
    diameter_cm: f64,
}

/// The answer of the new function.
#[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
struct PotResponse {
    /// Area of the opening, cm².
    opening_cm2: f64,
}

struct Pot;

impl Call for Pot {
    type Request = PotRequest;
    type Response = PotResponse;
    const NAME: &'static str = "pot";
    const PATH: &'static str = "pots";
    const GROUP: Group = Group::Model;
    const SUMMARY: &'static str = "The opening of a round pot";
    const DESCRIPTION: &'static str = "Geometry of a circle.";
    const EXAMPLE: &'static str = r#"{"diameter_cm": 10}"#;

    fn run(request: &PotRequest) -> Result<PotResponse, Error> {
        if request.diameter_cm > 0.0 {
            let opening_cm2 = std::f64::consts::PI * (request.diameter_cm / 2.0).powi(2);
            Ok(PotResponse { opening_cm2 })
        } else {
            Err(Error::new(Code::OutOfRange, "a pot has a size", "give more than 0 cm")
                .at("/diameter_cm"))
        }
    }
}

fn calls() -> Vec<AnyCall> {
    ALL.iter().copied().chain([AnyCall::new::<Pot>()]).collect()
}

#[test]
fn server_and_client_follow() {
    let server = start(Config { calls: calls(), ..config() });
    let client = Client::new(&format!("http://{}", server.address)).unwrap();
    let answer = client.call::<Pot>(&PotRequest { diameter_cm: 10.0 }).unwrap();
    assert!((answer.opening_cm2 - 78.539_816_339_744_83).abs() < 1e-12);
    let refused = client.call::<Pot>(&PotRequest { diameter_cm: 0.0 }).unwrap_err();
    assert_eq!(refused, Pot::run(&PotRequest { diameter_cm: 0.0 }).unwrap_err());
    let unsendable = client.call::<Pot>(&PotRequest { diameter_cm: f64::NAN }).unwrap_err();
    assert_eq!(unsendable.pointer(), "/diameter_cm");
    let infinite = client.call::<Pot>(&PotRequest { diameter_cm: f64::INFINITY }).unwrap_err();
    assert_eq!(infinite.code(), Code::OutOfRange);
}

#[test]
fn the_description_follows() {
    let document = guardcell_xtask::schemas::api(&calls(), &root()).unwrap();
    let operation = &document["paths"]["/v1/pots"]["post"];
    assert_eq!(operation["operationId"], "pot");
    assert_eq!(
        operation["responses"]["200"]["content"]["application/json"]["schema"]["$ref"],
        "#/components/schemas/PotResponse"
    );
}

/// Outside the crate that implements it, no code names the type of a call, except where a face
/// gives one call a form of its own (a picture, a look-up, a verb).
#[test]
fn every_listed_call_is_answered_by_name() {
    for call in ALL {
        let answer = guardcell::call(call.name(), call.example());
        assert!(answer.is_ok(), "{}: {answer:?}", call.name());
    }
    assert_eq!(guardcell::call("pot", "{}").unwrap_err().code(), Code::UnknownCall);
}
