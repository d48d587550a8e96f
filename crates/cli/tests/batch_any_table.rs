//! `batch` on tables of any content.

#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod batch_folder;
mod run;

use batch_folder::Folder;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// Cells of any text come back as they were, with the answer beside them.
    #[test]
    fn what_passes_along_is_not_changed(
        rows in prop::collection::vec(("[a\",\r\n é;]{0,12}", 0_u32..1000), 0..30),
        crlf in any::<bool>(),
    ) {
        let end = if crlf { csv::Terminator::CRLF } else { csv::Terminator::Any(b'\n') };
        let mut writer = csv::WriterBuilder::new().terminator(end).from_writer(Vec::new());
        writer.write_record(["note", "quantity", "to"]).unwrap();
        for (note, n) in &rows {
            writer.write_record([note.as_str(), &format!("{n} kg"), "g"]).unwrap();
        }
        let folder = Folder::new();
        folder.write("in.csv", writer.into_inner().unwrap());
        let out = folder.batch("convert", "in.csv", &["--columns", "value"]);
        prop_assert_eq!(out.code, 0, "{}", out.stderr);
        let text = folder.read("out");
        let found: Vec<(String, u32)> = csv::Reader::from_reader(text.as_bytes())
            .records()
            .map(|r| { let r = r.unwrap(); (r[0].to_owned(), r[3].parse::<u32>().unwrap() / 1000) })
            .collect();
        prop_assert_eq!(found, rows);
    }

    /// Of any bytes, every row is answered or told, and none twice.
    #[test]
    fn no_row_is_lost(bytes in prop::collection::vec(
        prop::sample::select(b"1 kg,g\"\"\n\n\n,,\r\xff\xc3".to_vec()), 0..300))
    {
        let folder = Folder::new();
        let mut table = b"quantity,to\n".to_vec();
        table.extend(&bytes);
        folder.write("in.csv", &table);
        let out = folder.batch("convert", "in.csv", &["--columns", "value"]);
        prop_assert!(matches!(out.code, 0 | 2), "{}", out.stderr);
        let answered = csv::Reader::from_reader(folder.read("out").as_bytes()).records()
            .map(Result::unwrap).count();
        let errors = folder.read("out.errors.csv");
        let told: Vec<u64> = csv::Reader::from_reader(errors.as_bytes()).records()
            .map(|r| r.unwrap()[0].parse().unwrap()).collect();
        let rows = answered + told.len();
        prop_assert!(told.windows(2).all(|w| w[0] < w[1]));
        prop_assert!(told.last().is_none_or(|last| *last <= rows as u64));
        // Without quotes, lines are rows for anybody who counts.
        if !bytes.contains(&b'"') {
            let lines = bytes.split(|b| matches!(b, b'\n' | b'\r')).filter(|l| !l.is_empty());
            prop_assert_eq!(rows, lines.count());
        }
    }
}
