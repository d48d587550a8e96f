//! Tables as the build packs them (`build/pack.rs`): all cells of a column after each other in one
//! text. They are unpacked once, when first asked for.

/// The columns of a table. A row reads one cell of each, in the order in which the build wrote them.
pub(crate) struct Cells {
    columns: Vec<Column>,
    next: usize,
}

/// A column and where its next cell starts.
struct Column {
    text: &'static str,
    at: usize,
}

/// The rows of a table.
pub(crate) fn rows<T>(table: &'static str, mut row: impl FnMut(&mut Cells) -> T) -> Vec<T> {
    let (lengths, mut rest) = table.split_once('\n').unwrap_or_default();
    let mut lengths = lengths.split(' ').map(|n| n.parse::<usize>().unwrap_or_default());
    let rows = lengths.next().unwrap_or_default();
    let column = |n| {
        let (text, others) = rest.split_at(n);
        rest = others;
        Column { text, at: 0 }
    };
    let mut cells = Cells { columns: lengths.map(column).collect(), next: 0 };
    let one = |_| {
        cells.next = 0;
        row(&mut cells)
    };
    (0..rows).map(one).collect()
}

impl Cells {
    fn column(&mut self) -> &mut Column {
        self.next += 1;
        &mut self.columns[self.next - 1]
    }

    /// The next text.
    pub(crate) fn text(&mut self) -> &'static str {
        let column = self.column();
        let (text, _) = column.text[column.at..].split_once('\n').unwrap_or_default();
        column.at += text.len() + 1;
        text
    }

    /// The next number that is written as text.
    pub(crate) fn float(&mut self) -> Option<f64> {
        self.text().parse().ok()
    }

    /// The next number.
    pub(crate) fn number(&mut self) -> u16 {
        self.column().digits() as u16
    }

    /// The next number, which is written by how far it is from the last one.
    pub(crate) fn step(&mut self, last: &mut u16) -> u16 {
        *last = last.wrapping_add(self.number());
        *last
    }

    /// The next flag.
    pub(crate) fn flag(&mut self) -> bool {
        self.number() == 1
    }

    /// The next number, or none.
    pub(crate) fn option(&mut self) -> Option<u16> {
        self.column().digits().checked_sub(1).map(|n| n as u16)
    }

    /// The next list of numbers.
    pub(crate) fn numbers(&mut self) -> impl Iterator<Item = u16> {
        let column = self.column();
        (0..column.digits()).map(|_| column.digits() as u16)
    }

    /// The next word of a list that the build wrote beside the table.
    pub(crate) fn word<T: Copy>(&mut self, words: &[T]) -> T {
        words[usize::from(self.number())]
    }
}

impl Column {
    /// The next number: six bits in each byte, the lowest first; the seventh says that more follow.
    fn digits(&mut self) -> u32 {
        let (bytes, mut value, mut shift) = (self.text.as_bytes(), 0, 0);
        loop {
            let byte = u32::from(bytes[self.at]);
            self.at += 1;
            value |= (byte & 0x3f) << shift;
            if byte & 0x40 == 0 {
                return value;
            }
            shift += 6;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::rows;
    use crate::{genera, names, species, species_names, species_records, works};

    #[test]
    fn a_table_is_read_row_by_row() {
        // Two rows: a text, a number (5, then 64 + 1), a list (none, then 1 and 2), a number as text.
        let table = "2 7 3 4 6\nab\néa\n\u{5}\u{41}\u{1}\0\u{2}\u{1}\u{2}-1.5\n\n";
        let read = rows(table, |c| (c.text(), c.number(), c.numbers().sum::<u16>(), c.float()));
        assert_eq!(read, [("ab", 5, 0, Some(-1.5)), ("éa", 65, 3, None)]);
    }

    #[test]
    fn the_largest_numbers_and_steps_back_are_read() {
        // 65,535 as an option; 10, then 65,535 further on: 9.
        let table = "2 4 4\n\u{40}\u{40}\u{10}\0\u{0a}\u{7f}\u{7f}\u{0f}";
        let mut last = 0;
        let read = rows(table, |c| (c.option(), c.step(&mut last)));
        assert_eq!(read, [(Some(u16::MAX), 10), (None, 9)]);
    }

    #[test]
    fn tables_stay_small() {
        let packed: usize = [
            crate::source::PACKED_WORKS,
            crate::source::PACKED_LISTS,
            crate::genus::PACKED_GENERA,
            crate::species::PACKED_EVIDENCE,
            crate::species::PACKED_SPECIES,
            crate::species::PACKED_RECORDS,
            crate::name::PACKED_NAMES,
            crate::species_name::PACKED_SPECIES_NAMES,
            crate::index::PACKED_HITS,
        ]
        .iter()
        .map(|table| table.len())
        .sum();
        let rows = size_of_val(genera())
            + size_of_val(species())
            + size_of_val(species_records())
            + size_of_val(names())
            + size_of_val(species_names())
            + size_of_val(works());
        println!("compiled tables: {packed} bytes; rows in memory: {rows} bytes");
        // Each a hundredth above what 767 genera, 900 hybrid genera and 2,889 further names of
        // species take: more names are welcome, a wider row is a decision.
        assert!(packed < 623_200, "{packed} bytes");
        assert!(rows < 1_237_000, "{rows} bytes");
    }
}
