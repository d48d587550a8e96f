//! Whether an object of a text has a field twice.

use super::scalars::skipped_scalars;
use core::fmt;
use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use std::collections::BTreeSet;

/// Whether any object of the text has a field twice.
pub(super) fn has_field_twice(json: &[u8]) -> bool {
    let mut found = false;
    let mut reader = serde_json::Deserializer::from_slice(json);
    Look(&mut found).deserialize(&mut reader).is_ok() && found
}

struct Look<'a>(&'a mut bool);

impl<'de> DeserializeSeed<'de> for Look<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<(), D::Error> {
        reader.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Look<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        let mut names = BTreeSet::new();
        while let Some(name) = entries.next_key::<String>()? {
            *self.0 |= !names.insert(name);
            entries.next_value_seed(Look(&mut *self.0))?;
        }
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<(), A::Error> {
        while items.next_element_seed(Look(&mut *self.0))?.is_some() {}
        Ok(())
    }

    skipped_scalars!();
}
