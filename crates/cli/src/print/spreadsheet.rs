//! CSV that a spreadsheet opens without running any of it.

use guardcell::Error;
use guardcell_journal::formula;

/// Rewrites whole rows so that no cell is run as a formula. The cells are otherwise the same; what
/// is not UTF-8 becomes U+FFFD.
pub(crate) fn disarmed(rows: &[u8]) -> Result<String, Error> {
    let unwritten = |e: &dyn std::fmt::Display| Error::internal(format!("a row of CSV: {e}"));
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(rows);
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let mut record = csv::ByteRecord::new();
    while reader.read_byte_record(&mut record).map_err(|e| unwritten(&e))? {
        let cells = record.iter().map(|cell| {
            let mut cell = String::from_utf8_lossy(cell).into_owned();
            formula::disarm(&mut cell);
            cell
        });
        writer.write_record(cells).map_err(|e| unwritten(&e))?;
    }
    let bytes = writer.into_inner().map_err(|e| unwritten(&e))?;
    String::from_utf8(bytes).map_err(|e| unwritten(&e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_stay_but_formulas_are_shown() {
        let rows = b"1,\"=A1\",\"a, b\",-5.2\n\"+1\n2\",@x,,'tis\n";
        let shown = "1,'=A1,\"a, b\",-5.2\n\"'+1\n2\",'@x,,'tis\n";
        assert_eq!(disarmed(rows).unwrap(), shown);
    }

    #[test]
    fn no_rows_are_no_text() {
        assert_eq!(disarmed(b"").unwrap(), "");
    }
}
