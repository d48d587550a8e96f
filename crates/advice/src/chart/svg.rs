//! The few SVG elements the charts need, with text escaped.

use std::fmt::Write as _;

/// A picture under construction.
#[derive(Debug)]
pub(super) struct Svg {
    width: f64,
    height: f64,
    body: String,
}

impl Svg {
    pub(super) const fn new(width: f64, height: f64) -> Self {
        Self { width, height, body: String::new() }
    }

    fn push(&mut self, element: std::fmt::Arguments<'_>) {
        // Writing to a String cannot fail.
        let _ = self.body.write_fmt(element);
        self.body.push('\n');
    }

    pub(super) fn rect(&mut self, (x, y): (f64, f64), (w, h): (f64, f64), style: &str) {
        self.push(format_args!(
            r#"<rect x="{x:.1}" y="{y:.1}" width="{w:.1}" height="{h:.1}" {style}/>"#
        ));
    }

    pub(super) fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64), style: &str) {
        self.push(format_args!(
            r#"<line x1="{x1:.1}" y1="{y1:.1}" x2="{x2:.1}" y2="{y2:.1}" {style}/>"#
        ));
    }

    pub(super) fn polyline(&mut self, points: &[(f64, f64)], style: &str) {
        let list: Vec<String> = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
        self.push(format_args!(r#"<polyline points="{}" fill="none" {style}/>"#, list.join(" ")));
    }

    pub(super) fn text(&mut self, (x, y): (f64, f64), style: &str, text: &str) {
        self.push(format_args!(r#"<text x="{x:.1}" y="{y:.1}" {style}>{}</text>"#, escaped(text)));
    }

    /// The whole picture, with a title and a description for those who do not see it.
    pub(super) fn finish(self, title: &str, description: &str) -> String {
        format!(
            concat!(
                r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w:.0} {h:.0}" "#,
                r#"width="{w:.0}" height="{h:.0}" role="img" aria-labelledby="t d" "#,
                r#"font-family="sans-serif" font-size="13">"#,
                "\n<title id=\"t\">{title}</title>\n<desc id=\"d\">{desc}</desc>\n",
                r##"<defs><pattern id="hatch" width="6" height="6" patternTransform="rotate(45)" "##,
                r##"patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="#fff"/>"##,
                r##"<line x1="0" y1="0" x2="0" y2="6" stroke="#555" stroke-width="2"/></pattern></defs>"##,
                "\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{body}</svg>\n"
            ),
            w = self.width,
            h = self.height,
            title = escaped(title),
            desc = escaped(description),
            body = self.body,
        )
    }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            // Control characters have no place in XML.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_break_out() {
        let mut svg = Svg::new(10.0, 10.0);
        svg.text((0.0, 0.0), "", "</text><script>\u{0}&\"");
        let out = svg.finish("<t>", "d");
        assert!(!out.contains("<script>") && !out.contains('\u{0}'), "{out}");
        assert!(out.contains("&lt;t&gt;"));
    }
}
