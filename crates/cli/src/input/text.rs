//! Text files, read within bounds.

use crate::error::{bad_file, io};
use guardcell::Error;
use std::fs::File;
use std::io::{BufRead, BufReader, Read};
use std::path::Path;

/// No input of a collection, a label or a year of hourly readings comes near this.
const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// Longest line taken: a row of a table is a few hundred bytes.
const MOST_LINE_BYTES: usize = 64 * 1024;

/// The text of a file (`-` is standard input): UTF-8, of bounded size, with lines of bounded length, not empty.
pub(crate) fn read(path: &Path) -> Result<String, Error> {
    let text = read_lines_of_any_length(path)?;
    let place = path.display();
    if let Some((i, line)) = text.lines().enumerate().find(|(_, l)| l.len() > MOST_LINE_BYTES) {
        return Err(bad_file(
            place,
            format!("the line has {} bytes", line.len()),
            format!("keep lines below {MOST_LINE_BYTES} bytes"),
        )
        .on_line(i as u64 + 1));
    }
    Ok(text)
}

/// As [`read`], for JSON, which may be one long line.
pub(crate) fn read_lines_of_any_length(path: &Path) -> Result<String, Error> {
    let failed = |e| io(path, e);
    let source: Box<dyn Read> = if path == Path::new("-") {
        Box::new(std::io::stdin().lock())
    } else {
        let file = File::open(path).map_err(failed)?;
        if file.metadata().map_err(failed)?.is_dir() {
            return Err(bad_file(path.display(), "this is a folder", "name a file"));
        }
        Box::new(file)
    };
    let mut bytes = Vec::new();
    source.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(failed)?;
    let place = if path == Path::new("-") {
        "standard input".to_owned()
    } else {
        path.display().to_string()
    };
    if bytes.len() as u64 > MOST_BYTES {
        return Err(bad_file(
            place,
            format!("the file is larger than {} MiB", MOST_BYTES / 1024 / 1024),
            "split it",
        ));
    }
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(e) => {
            let valid = e.utf8_error().valid_up_to();
            let line = e.as_bytes().iter().take(valid).filter(|b| **b == b'\n').count() + 1;
            return Err(bad_file(place, "the text is not UTF-8", "save the file as UTF-8")
                .on_line(line as u64));
        }
    };
    let text = text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned);
    if text.trim().is_empty() {
        return Err(bad_file(place, "the file is empty", "give a file with content"));
    }
    Ok(text)
}

/// That a path names a file which can be read, before anything is done because of it.
pub(crate) fn check_file(path: &Path) -> Result<(), Error> {
    let failed = |what| io(path, what);
    if File::open(path).and_then(|f| f.metadata()).map_err(failed)?.is_dir() {
        return Err(bad_file(path.display(), "this is a folder", "name a file"));
    }
    Ok(())
}

/// The lines of a file or of standard input, one at a time, each of bounded length.
pub(crate) struct Lines {
    reader: Box<dyn BufRead>,
    place: String,
    number: u64,
}

impl Lines {
    /// Opens a file; `-` is standard input.
    pub(crate) fn open(path: &Path) -> Result<Self, Error> {
        let (reader, place): (Box<dyn BufRead>, _) = if path == Path::new("-") {
            (Box::new(std::io::stdin().lock()), "standard input".to_owned())
        } else {
            let file = File::open(path).map_err(|what| io(path, what))?;
            (Box::new(BufReader::new(file)), path.display().to_string())
        };
        Ok(Self { reader, place, number: 0 })
    }
}

impl Iterator for Lines {
    type Item = Result<String, Error>;

    fn next(&mut self) -> Option<Self::Item> {
        let mut bytes = Vec::new();
        self.number += 1;
        let limit = MOST_LINE_BYTES as u64 + 1;
        let failed = |what| io(Path::new(&self.place), what);
        match self.reader.by_ref().take(limit).read_until(b'\n', &mut bytes) {
            Ok(0) => return None,
            Ok(_) => {}
            Err(e) => return Some(Err(failed(e))),
        }
        if bytes.len() > MOST_LINE_BYTES {
            // Leave the rest of the line behind without keeping it.
            let mut rest = Vec::new();
            loop {
                rest.clear();
                match self.reader.by_ref().take(limit).read_until(b'\n', &mut rest) {
                    Ok(n) if n > 0 && !rest.ends_with(b"\n") => {}
                    Ok(_) => break,
                    Err(e) => return Some(Err(failed(e))),
                }
            }
            return Some(Err(bad_file(
                &self.place,
                "the line is too long",
                format!("keep lines below {MOST_LINE_BYTES} bytes"),
            )
            .on_line(self.number)));
        }
        Some(String::from_utf8(bytes).map_err(|_| {
            bad_file(&self.place, "the text is not UTF-8", "save the file as UTF-8")
                .on_line(self.number)
        }))
    }
}
