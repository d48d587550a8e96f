//! A QR code made of block characters, two rows of modules in a line.

use guardcell::Error;
use qrcode::render::unicode::Dense1x2;
use qrcode::{EcLevel, QrCode};

/// The code of a text with its quiet zone. Where the terminal has colours it is dark on light; else
/// blocks are the light modules, for a terminal that is dark.
pub(super) fn drawn(text: &str) -> Result<String, Error> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M)
        .map_err(|e| Error::internal(format!("the QR cannot be made: {e}")))?;
    let picture = code
        .render::<Dense1x2>()
        .dark_color(Dense1x2::Light)
        .light_color(Dense1x2::Dark)
        .quiet_zone(true)
        .build();
    let colours = anstyle::Style::new()
        .fg_color(Some(anstyle::RgbColor(255, 255, 255).into()))
        .bg_color(Some(anstyle::RgbColor(0, 0, 0).into()));
    let mut out = String::new();
    for line in picture.lines() {
        out.push_str(&format!("{colours}{line}{colours:#}\n"));
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_has_its_finders_and_its_quiet_zone() {
        let text = drawn("https://greenhouse.local:8427/#pair=34679-ACDEF").unwrap();
        let plain: Vec<String> =
            text.lines().map(|l| anstream::adapter::strip_str(l).to_string()).collect();
        let width = plain[0].chars().count();
        // ISO/IEC 18004: 17 + 4 times the version modules a side, and a quiet zone of 4.
        assert_eq!((width - 8 - 17) % 4, 0, "{width}");
        assert_eq!(plain.len(), width.div_ceil(2));
        assert!(plain.iter().all(|l| l.chars().count() == width));
        // A code has an odd number of rows: the last line is the upper half alone.
        let (last, lines) = plain.split_last().unwrap();
        assert!(lines.iter().all(|l| l.starts_with("████")), "{plain:#?}");
        assert!(last.chars().all(|c| c == '▀'), "{last}");
        // The upper edge of the first finder: seven dark modules in the row below the quiet zone.
        let row: Vec<char> = plain[2].chars().collect();
        assert!(row[4..11].iter().all(|c| matches!(c, ' ' | '▄')), "{:?}", plain[2]);
        assert!(matches!(row[11], '█' | '▀'), "{:?}", plain[2]);
    }
}
