//! Packs a table as the library unpacks it (`src/packed.rs`): all cells of a column after each other,
//! so that like is beside like. Rows of Rust would take 8 bytes for each text and list beside what
//! they point at, and those compress badly where a program is downloaded.

use std::collections::BTreeMap;
use std::fmt::Write as _;

/// A table in the making. Each row writes its cells in the same order.
#[derive(Default)]
pub(crate) struct Pack {
    columns: Vec<String>,
    next: usize,
    rows: usize,
}

impl Pack {
    /// A table of these rows.
    pub(crate) fn of<T>(
        rows: impl IntoIterator<Item = T>,
        mut row: impl FnMut(&mut Self, T),
    ) -> Self {
        let mut table = Self::default();
        for r in rows {
            table.next = 0;
            table.rows += 1;
            row(&mut table, r);
        }
        table
    }

    fn cell(&mut self) -> &mut String {
        let at = self.next;
        self.next += 1;
        self.columns.resize(self.columns.len().max(self.next), String::new());
        &mut self.columns[at]
    }

    pub(crate) fn text(&mut self, text: &str) {
        assert!(!text.contains('\n'), "{text:?}: a text of a table is one line");
        let cell = self.cell();
        cell.push_str(text);
        cell.push('\n');
    }

    /// A number as its shortest text; a missing one is an empty text.
    pub(crate) fn float(&mut self, value: Option<f64>) {
        self.text(&value.map(|v| format!("{v}")).unwrap_or_default());
    }

    pub(crate) fn number(&mut self, value: usize) {
        digits(self.cell(), value);
    }

    /// A number of 16 bits by how far it is from the last one.
    pub(crate) fn step(&mut self, last: &mut usize, value: usize) {
        self.number((value as u16).wrapping_sub(*last as u16).into());
        *last = value;
    }

    pub(crate) fn flag(&mut self, value: bool) {
        self.number(value.into());
    }

    /// A number, or none.
    pub(crate) fn option(&mut self, value: Option<usize>) {
        self.number(value.map_or(0, |v| v + 1));
    }

    /// How many numbers, and the numbers.
    pub(crate) fn numbers(&mut self, values: &[usize]) {
        let cell = self.cell();
        digits(cell, values.len());
        for &v in values {
            digits(cell, v);
        }
    }

    /// The place of a variant in a list that [`variants`] writes.
    pub(crate) fn word(&mut self, words: &[(&str, &str)], variant: &str) {
        let at = words.iter().position(|(_, v)| *v == variant);
        assert!(at.is_some(), "{variant:?} is not in {words:?}");
        self.number(at.unwrap_or_default());
    }

    /// The table as Rust: the number of rows, the length of each column, and the columns.
    pub(crate) fn rust(&self, name: &str) -> String {
        let mut text = self.rows.to_string();
        for column in &self.columns {
            let _ = write!(text, " {}", column.len());
        }
        text.push('\n');
        text.extend(self.columns.iter().map(String::as_str));
        format!("#[allow(clippy::octal_escapes)]\npub(crate) static {name}: &str = {text:?};\n")
    }
}

/// Six bits in each byte, the lowest first; the seventh says that more follow.
fn digits(cell: &mut String, mut value: usize) {
    while value > 0x3f {
        cell.push(char::from((value & 0x3f | 0x40) as u8));
        value >>= 6;
    }
    cell.push(char::from(value as u8));
}

/// The variants of a list of words as Rust.
pub(crate) fn variants(name: &str, kind: &str, words: &[(&str, &str)]) -> String {
    let all: Vec<String> = words.iter().map(|(_, v)| format!("{kind}::{v}")).collect();
    format!("static {name}: &[{kind}] = &[{}];\n", all.join(", "))
}

/// The lists of works that the rows of packed tables cite, each once.
pub(crate) struct Lists<'a> {
    works: &'a BTreeMap<String, usize>,
    lists: Vec<Vec<usize>>,
    known: BTreeMap<Vec<String>, usize>,
}

impl<'a> Lists<'a> {
    pub(crate) fn new(works: &'a BTreeMap<String, usize>) -> Self {
        Self { works, lists: Vec::new(), known: BTreeMap::new() }
    }

    /// The number of the list of these works.
    pub(crate) fn number(&mut self, keys: &[String]) -> usize {
        let (works, lists) = (self.works, &mut self.lists);
        *self.known.entry(keys.to_vec()).or_insert_with(|| {
            lists.push(keys.iter().filter_map(|k| works.get(k)).copied().collect());
            lists.len() - 1
        })
    }

    pub(crate) fn rust(&self) -> String {
        Pack::of(&self.lists, |row, list| row.numbers(list)).rust("PACKED_LISTS")
    }
}
