//! Readings as the table of conditions that the program itself reads.

use guardcell::advice::Reading;

/// Writes readings as CSV: `time,area,temp_c,rh_percent,air_m_s,radiation_w_m2`, a blank field for
/// absent values.
///
/// ```
/// use guardcell::advice::Reading;
/// use guardcell_conditions::to_csv;
/// let reading = Reading::new("2026-06-21T05:00:00+01:00", 18.0, 88.0).with_area("house".to_owned()).with_radiation_w_m2(0.0);
/// let table = to_csv(&[reading]);
/// assert!(table.ends_with("2026-06-21T05:00:00+01:00,house,18,88,,0\n"));
/// ```
#[must_use]
pub fn to_csv(readings: &[Reading]) -> String {
    let mut out = String::from("time,area,temp_c,rh_percent,air_m_s,radiation_w_m2\n");
    let some = |v: Option<f64>| v.map_or(String::new(), |v| v.to_string());
    for r in readings {
        let fields = [
            quoted(&r.time),
            quoted(r.area.as_deref().unwrap_or_default()),
            r.temp_c.to_string(),
            r.rh_percent.to_string(),
            some(r.air_m_s),
            some(r.radiation_w_m2),
        ];
        out.push_str(&fields.join(","));
        out.push('\n');
    }
    out
}

/// A field by RFC 4180.
fn quoted(field: &str) -> String {
    if field.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", field.replace('"', "\"\""))
    } else {
        field.to_owned()
    }
}
