//! Generators of schemas, for what is read and for what is written.

use schemars::SchemaGenerator;
use schemars::generate::SchemaSettings;

pub(super) fn deserialized() -> SchemaGenerator {
    SchemaSettings::draft2020_12().for_deserialize().into_generator()
}

pub(super) fn serialized() -> SchemaGenerator {
    SchemaSettings::draft2020_12().for_serialize().into_generator()
}
