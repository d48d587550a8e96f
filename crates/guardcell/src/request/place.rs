//! Where in a text reading has got to, so that a refusal says where it is. Counted and not named
//! while reading: the names of fields are looked up in the text where they are needed.

use super::scalars::skipped_scalars;
use core::fmt;
use guardcell_error::pointer;
use serde::de::{DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};
use std::cell::RefCell;

thread_local! {
    /// For each list and object that is being read: how many of its items were begun.
    static BEGUN: RefCell<Vec<usize>> = const { RefCell::new(Vec::new()) };
}

/// Another text is read.
pub(super) fn begin() {
    BEGUN.with_borrow_mut(Vec::clear);
}

/// A list or an object is read. What fails in it leaves the place as it is.
pub(super) fn inside<T, E>(read: impl FnOnce() -> Result<T, E>) -> Result<T, E> {
    BEGUN.with_borrow_mut(|begun| begun.push(0));
    let answer = read();
    if answer.is_ok() {
        BEGUN.with_borrow_mut(Vec::pop);
    }
    answer
}

/// The next item of it is read.
pub(super) fn next() {
    BEGUN.with_borrow_mut(|begun| {
        if let Some(last) = begun.last_mut() {
            *last += 1;
        }
    });
}

/// The JSON Pointer of where the reading of this text ended.
pub(super) fn reached(json: &[u8]) -> String {
    let begun = BEGUN.with_borrow(Clone::clone);
    let mut found = String::new();
    let mut reader = serde_json::Deserializer::from_slice(json);
    // What is wrong with the text is said by others; as far as it goes, it has the names.
    let _ = Seek { begun: &begun, found: &mut found }.deserialize(&mut reader);
    found
}

/// Follows the numbers of items through a text.
struct Seek<'a> {
    begun: &'a [usize],
    found: &'a mut String,
}

impl<'de> DeserializeSeed<'de> for Seek<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<(), D::Error> {
        reader.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Seek<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON value")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<(), A::Error> {
        let Some((&wanted, begun)) = self.begun.split_first() else { return ended() };
        let mut number = 0;
        while let Some(name) = entries.next_key::<String>()? {
            number += 1;
            if number == wanted {
                *self.found = pointer::key(self.found, &name);
                return entries.next_value_seed(Seek { begun, found: self.found });
            }
            entries.next_value::<IgnoredAny>()?;
        }
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<(), A::Error> {
        let Some((&wanted, begun)) = self.begun.split_first() else { return ended() };
        for _ in 1..wanted {
            if items.next_element::<IgnoredAny>()?.is_none() {
                return Ok(());
            }
        }
        let before = self.found.clone();
        *self.found = pointer::index(&before, wanted.saturating_sub(1));
        let item = items.next_element_seed(Seek { begun, found: &mut *self.found })?;
        if wanted == 0 || item.is_none() {
            // It was the whole list that was wrong.
            *self.found = before;
        }
        Ok(())
    }

    skipped_scalars!();
}

/// The place is found; the rest of the text does not matter.
fn ended<E: Error>() -> Result<(), E> {
    Err(E::custom("found"))
}
