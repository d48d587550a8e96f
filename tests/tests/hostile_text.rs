//! Text from strangers (ids, names, areas, units) full of separators, pointers, quotes and control
//! characters: a refusal over HTTP and through the client has exactly the fields that the library
//! gave it, and the text points to the right place.

mod support;

use guardcell::calls::{Advise, Call, Convert};
use guardcell::{Error, pointer};
use guardcell_client::Client;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::LazyLock;
use support::{Running, config, start};

static SERVER: LazyLock<Running> = LazyLock::new(|| start(config()));
static CLIENT: LazyLock<Client> =
    LazyLock::new(|| Client::new(&format!("http://{}", SERVER.address)).unwrap());

/// Pieces that a parser of messages would trip over.
fn hostile() -> impl Strategy<Value = String> {
    let pieces = prop::sample::select(vec![
        ": ",
        "; ",
        "/plants/0",
        "/",
        "~",
        "~1",
        "\"",
        "'",
        "\\",
        "\n",
        "\r\n",
        "\t",
        "\u{1b}[2J",
        "\u{202e}",
        "\u{0}",
        ", expected ",
        " at line 1 column 2",
        "`",
        ".",
        "æ",
        "x",
        "shelf 2",
        "pot 3",
        "%",
        "{}",
        "é",
    ]);
    prop::collection::vec(pieces, 1..8).prop_map(|pieces| pieces.concat())
}

/// The same refusal by name, over HTTP and through the client.
fn same_everywhere<C: Call>(request: &Value) -> Result<Error, TestCaseError>
where
    C::Request: PartialEq,
{
    let json = request.to_string();
    let here = guardcell::call(C::NAME, &json).unwrap_err();
    let answer = SERVER.post(&format!("/v1/{}", C::PATH), json.as_bytes());
    let problem = answer.json();
    prop_assert_eq!(&problem["detail"], here.detail());
    prop_assert_eq!(&problem["hint"], here.hint());
    prop_assert_eq!(&problem["pointer"], here.pointer());
    prop_assert_eq!(&problem["code"], here.code().as_str());
    prop_assert_eq!(&problem["type"], &json!(format!("/problems#{}", here.code())));
    if let Ok(typed) = serde_json::from_value::<C::Request>(request.clone()) {
        let there = CLIENT.call::<C>(&typed).err();
        prop_assert_eq!(there.as_ref(), Some(&here));
    }
    Ok(here)
}

fn advice() -> Value {
    serde_json::from_str(Advise::EXAMPLE).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn an_id_given_twice(id in hostile()) {
        let mut request = advice();
        let plant = request["plants"][0].clone();
        request["plants"] = json!([plant, plant]);
        request["plants"][0]["id"] = json!(id);
        request["plants"][1]["id"] = json!(id);
        let error = same_everywhere::<Advise>(&request)?;
        prop_assert!(error.pointer().starts_with("/plants/"), "{error:?}");
    }

    #[test]
    fn an_area_that_does_not_exist(area in hostile()) {
        let mut request = advice();
        request["plants"][0]["area"] = json!(area);
        let error = same_everywhere::<Advise>(&request)?;
        prop_assert_eq!(error.pointer(), "/plants/0/area");
    }

    #[test]
    fn a_field_that_does_not_exist(name in hostile()) {
        let mut request = advice();
        request["site"][name.as_str()] = json!(1);
        let error = same_everywhere::<Advise>(&request)?;
        prop_assert_eq!(error.pointer(), pointer::key("/site", &name));
    }

    #[test]
    fn a_unit_that_does_not_exist(unit in hostile()) {
        let request = json!({ "quantity": format!("1 {unit}"), "to": "zorkmid" });
        same_everywhere::<Convert>(&request)?;
    }

    #[test]
    fn a_time_that_is_not_one(time in hostile()) {
        let mut request = advice();
        request["readings"][0]["time"] = json!(time);
        let error = same_everywhere::<Advise>(&request)?;
        prop_assert_eq!(error.pointer(), "/readings/0/time");
    }
}
