//! The schema of a type, from which its faults are explained: made once.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;
use std::any::TypeId;
use std::collections::HashMap;
use std::sync::{Arc, PoisonError, RwLock};

pub(super) fn of<T: JsonSchema + 'static>() -> Arc<Value> {
    kept(TypeId::of::<T>(), || {
        let generator = SchemaSettings::draft2020_12().for_deserialize().into_generator();
        generator.into_root_schema_for::<T>().to_value()
    })
}

/// Compiled once and not for every type.
fn kept(id: TypeId, make: fn() -> Value) -> Arc<Value> {
    static MADE: RwLock<Option<HashMap<TypeId, Arc<Value>>>> = RwLock::new(None);
    let read = MADE.read().unwrap_or_else(PoisonError::into_inner);
    if let Some(schema) = read.as_ref().and_then(|all| all.get(&id)) {
        return Arc::clone(schema);
    }
    drop(read);
    let schema = Arc::new(make());
    let mut all = MADE.write().unwrap_or_else(PoisonError::into_inner);
    all.get_or_insert_default().insert(id, Arc::clone(&schema));
    schema
}
