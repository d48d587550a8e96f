//! `data/other_plants.csv` → genera of other plants, by folded key.

use crate::fold::fold;
use crate::table::{Faults, rows};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The table; `is_orchid` says whether a key is a name of the other tables.
pub(crate) fn compile(
    is_orchid: impl Fn(&str) -> bool,
    faults: &mut Faults,
) -> Result<String, String> {
    let mut by_key: BTreeMap<String, (String, String)> = BTreeMap::new();
    for row in rows(guardcell_data::OTHER_PLANTS, &["genus", "family", "notes"])? {
        let (genus, family) = (row.get("genus").to_owned(), row.get("family").to_owned());
        let Some(key) = fold(&genus).map(|k| String::from_utf8_lossy(k.bytes()).into_owned())
        else {
            faults.error(&row.at, format!("genus {genus:?}; it should be a word"));
            continue;
        };
        if family.is_empty() {
            faults.error(&row.at, "family is blank");
        }
        if is_orchid(&genus) {
            faults.error(&row.at, format!("{genus} is a name of an orchid genus too"));
        }
        if by_key.insert(key, (genus, family)).is_some() {
            faults.error(&row.at, "duplicate genus");
        }
    }
    let mut text = String::from("static OTHER_PLANTS: &[(&str, OtherPlant)] = &[\n");
    for (key, (genus, family)) in &by_key {
        let _ =
            writeln!(text, "    ({key:?}, OtherPlant {{ genus: {genus:?}, family: {family:?} }}),");
    }
    text.push_str("];\n");
    Ok(text)
}
