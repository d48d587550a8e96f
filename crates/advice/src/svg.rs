//! The SVG elements that the pictures of guardcell need, with text escaped. A picture is readable in
//! grey print: shape, line and pattern tell things apart, never colour alone.

use std::fmt::Write as _;

/// A picture under construction. Lengths are in pixels; a style is a list of SVG attributes.
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
/// use guardcell::advice::svg::Svg;
/// let mut picture = Svg::new(100.0, 20.0);
/// picture.text((4.0, 14.0), r#"font-weight="bold""#, "wet & dry");
/// let text = picture.finish("Leaf", "A leaf that dries.");
/// assert!(text.contains("wet &amp; dry"));
/// ```
#[derive(Debug)]
pub struct Svg {
    width: f64,
    height: f64,
    body: String,
}

impl Svg {
    /// The style of a surface filled with slanting lines.
    pub const HATCH: &'static str = r##"fill="url(#hatch)""##;

    /// An empty picture.
    #[must_use]
    pub const fn new(width: f64, height: f64) -> Self {
        Self { width, height, body: String::new() }
    }

    fn push(&mut self, element: std::fmt::Arguments<'_>) {
        // Writing to a String cannot fail.
        let _ = self.body.write_fmt(element);
        self.body.push('\n');
    }

    /// A rectangle from its upper left corner.
    pub fn rect(&mut self, (x, y): (f64, f64), (w, h): (f64, f64), style: &str) {
        self.push(format_args!(
            r#"<rect x="{x:.1}" y="{y:.1}" width="{w:.1}" height="{h:.1}" {style}/>"#
        ));
    }

    /// A rectangle with what it says when pointed at.
    pub fn titled_rect(
        &mut self,
        (x, y): (f64, f64),
        (w, h): (f64, f64),
        style: &str,
        title: &str,
    ) {
        self.push(format_args!(
            r#"<rect x="{x:.1}" y="{y:.1}" width="{w:.1}" height="{h:.1}" {style}><title>{}</title></rect>"#,
            escaped(title)
        ));
    }

    /// A straight line.
    pub fn line(&mut self, (x1, y1): (f64, f64), (x2, y2): (f64, f64), style: &str) {
        self.push(format_args!(
            r#"<line x1="{x1:.1}" y1="{y1:.1}" x2="{x2:.1}" y2="{y2:.1}" {style}/>"#
        ));
    }

    /// A line through points.
    pub fn polyline(&mut self, points: impl IntoIterator<Item = (f64, f64)>, style: &str) {
        let list = list(points);
        self.push(format_args!(r#"<polyline points="{list}" fill="none" {style}/>"#));
    }

    /// A surface bounded by points.
    pub fn polygon(&mut self, points: impl IntoIterator<Item = (f64, f64)>, style: &str) {
        let list = list(points);
        self.push(format_args!(r#"<polygon points="{list}" {style}/>"#));
    }

    /// A mark at a point: the path data is relative to it. It says its title when pointed at.
    pub fn mark(&mut self, (x, y): (f64, f64), path: &str, style: &str, title: &str) {
        self.push(format_args!(
            r#"<path transform="translate({x:.1} {y:.1})" d="{path}" {style}><title>{}</title></path>"#,
            escaped(title)
        ));
    }

    /// A text from the left end of its base line, unless the style has another anchor.
    pub fn text(&mut self, (x, y): (f64, f64), style: &str, text: &str) {
        self.push(format_args!(r#"<text x="{x:.1}" y="{y:.1}" {style}>{}</text>"#, escaped(text)));
    }

    /// The whole picture, with a title and a description for those who do not see it.
    #[must_use]
    pub fn finish(self, title: &str, description: &str) -> String {
        format!(
            concat!(
                r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w:.0} {h:.0}" "#,
                r#"width="{w:.0}" height="{h:.0}" role="img" aria-labelledby="t d" "#,
                r#"font-family="sans-serif" font-size="13">"#,
                "\n<title id=\"t\">{title}</title>\n<desc id=\"d\">{desc}</desc>\n",
                r##"<defs><pattern id="hatch" width="6" height="6" patternTransform="rotate(45)" "##,
                r##"patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="#fff"/>"##,
                r##"<line x1="0" y1="0" x2="0" y2="6" stroke="#000" stroke-width="1.5"/></pattern></defs>"##,
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

fn list(points: impl IntoIterator<Item = (f64, f64)>) -> String {
    let points: Vec<String> = points.into_iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect();
    points.join(" ")
}

/// Text as XML and HTML hold it; what XML cannot hold becomes a space.
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
/// assert_eq!(guardcell::advice::svg::escaped("<wet & dry>"), "&lt;wet &amp; dry&gt;");
/// ```
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => out.push(' '),
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
        svg.titled_rect((0.0, 0.0), (1.0, 1.0), "", "</title><script>");
        svg.mark((0.0, 0.0), "M 0 0", "", "\u{ffff}<script>");
        let out = svg.finish("<t>", "<d>");
        assert!(!out.contains("<script>") && !out.contains(['\u{0}', '\u{ffff}']), "{out}");
        assert!(out.contains("&lt;t&gt;") && out.contains("&lt;d&gt;"));
    }
}
