//! The schemas of the requests of every call, made before compiling: where the code that makes them
//! would be too much to download.

use serde_json::{Map, Value};
use std::sync::LazyLock;

/// Made by `cargo xtask schemas`: without what explains a field and names its type.
static ALL: LazyLock<Map<String, Value>> =
    LazyLock::new(|| serde_json::from_str(include_str!("../../forms.json")).unwrap_or_default());

/// The schema of the requests of a call.
pub(super) fn of(call: &str) -> Option<&'static Value> {
    ALL.get(call)
}

#[cfg(all(test, feature = "schema"))]
mod tests {
    use super::*;
    use crate::calls;
    use crate::request::fault;
    use crate::request::schemas;
    use guardcell_advice::AdviceRequest;
    use guardcell_solution::RecipeRequest;
    use serde_json::json;

    #[test]
    fn every_call_has_one() {
        for call in calls::ALL {
            assert!(of(call.name()).is_some(), "{}", call.name());
        }
        assert!(of("no_such_call").is_none());
    }

    #[test]
    fn they_say_what_the_schemas_of_the_types_say() {
        let advise: Value = serde_json::from_str(calls::find("advise").unwrap().example()).unwrap();
        let said = |name: &str, schema: &Value, value: &Value| {
            let short = fault::first(value, of(name).unwrap());
            assert_eq!(short, fault::first(value, schema), "{name}");
            short.is_some()
        };
        let schema = schemas::of::<AdviceRequest>();
        let mut faults = 0;
        for field in advise.as_object().unwrap().keys() {
            for other in [json!(null), json!(7), json!([{"x": 1}]), json!({"y": []})] {
                let mut bad = advise.clone();
                bad[field] = other;
                faults += usize::from(said("advise", &schema, &bad));
            }
        }
        assert!(faults > 15, "{faults}");
        let bad = json!({"products": [], "volume_l": 4, "targets": [{"mg_l": 300}]});
        assert!(said("recipe", &schemas::of::<RecipeRequest>(), &bad));
    }
}
