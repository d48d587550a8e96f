//! A small writer of SVG: black on white, told apart by shape, line and pattern, never by colour
//! alone, with a title and a description for those who cannot see it.

use std::fmt::Write as _;

/// A picture that is being drawn. Lengths are in pixels.
#[derive(Debug)]
pub(crate) struct Svg {
    body: String,
    width: f64,
    height: f64,
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Line {
    Solid,
    Thin,
    Dashed,
    /// White, below another line.
    Halo,
}

impl Line {
    const fn style(self) -> &'static str {
        match self {
            Self::Solid => "stroke=\"#000\" stroke-width=\"2\"",
            Self::Thin => "stroke=\"#000\" stroke-width=\"0.75\"",
            Self::Dashed => "stroke=\"#000\" stroke-width=\"1.5\" stroke-dasharray=\"6 4\"",
            Self::Halo => "stroke=\"#fff\" stroke-width=\"4.5\"",
        }
    }
}

/// Where a text stands relative to its point.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

impl Svg {
    pub(crate) fn new(width: f64, height: f64) -> Self {
        Self { body: String::new(), width, height }
    }

    fn push(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.body.write_fmt(text);
        self.body.push('\n');
    }

    pub(crate) fn line(&mut self, from: (f64, f64), to: (f64, f64), line: Line) {
        let ((x1, y1), (x2, y2)) = (from, to);
        self.push(format_args!(
            "<line x1=\"{x1:.1}\" y1=\"{y1:.1}\" x2=\"{x2:.1}\" y2=\"{y2:.1}\" {}/>",
            line.style()
        ));
    }

    pub(crate) fn path(&mut self, points: impl Iterator<Item = (f64, f64)>, line: Line) {
        let d = Self::list(points);
        self.push(format_args!("<polyline points=\"{d}\" fill=\"none\" {}/>", line.style()));
    }

    /// A surface filled with slanting lines.
    pub(crate) fn hatched(&mut self, points: impl Iterator<Item = (f64, f64)>) {
        let d = Self::list(points);
        self.push(format_args!("<polygon points=\"{d}\" fill=\"url(#hatch)\"/>"));
    }

    fn list(points: impl Iterator<Item = (f64, f64)>) -> String {
        let mut d = String::new();
        for (x, y) in points {
            let _ = write!(d, "{x:.1},{y:.1} ");
        }
        d.trim_end().to_owned()
    }

    /// A box with `fill` one of `#fff`, `#000`, `url(#hatch)`, and what it says when pointed at.
    pub(crate) fn bar(&mut self, x: f64, y: f64, width: f64, height: f64, fill: &str, says: &str) {
        self.push(format_args!(
            "<rect x=\"{x:.1}\" y=\"{y:.1}\" width=\"{width:.1}\" height=\"{height:.1}\" \
             fill=\"{fill}\" stroke=\"#000\" stroke-width=\"0.75\"><title>{}</title></rect>",
            escape(says)
        ));
    }

    /// A mark made of straight lines, relative to its point.
    pub(crate) fn mark(&mut self, at: (f64, f64), shape: &str, fill: &str, says: &str) {
        self.push(format_args!(
            "<path transform=\"translate({:.1} {:.1})\" d=\"{shape}\" fill=\"{fill}\" \
             stroke=\"#000\" stroke-width=\"1.25\"><title>{}</title></path>",
            at.0,
            at.1,
            escape(says)
        ));
    }

    pub(crate) fn text(&mut self, at: (f64, f64), size: f64, anchor: Anchor, text: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        self.push(format_args!(
            "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"{size}\" text-anchor=\"{anchor}\">{}</text>",
            at.0,
            at.1,
            escape(text)
        ));
    }

    /// The document. `title` and `description` are what a screen reader says.
    pub(crate) fn finish(self, title: &str, description: &str) -> String {
        let (w, h) = (self.width, self.height);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w:.0} {h:.0}\" \
             width=\"{w:.0}\" height=\"{h:.0}\" role=\"img\" aria-labelledby=\"title desc\" \
             font-family=\"Helvetica, Arial, sans-serif\" fill=\"#000\">\n\
             <title id=\"title\">{}</title>\n<desc id=\"desc\">{}</desc>\n\
             <defs><pattern id=\"hatch\" width=\"5\" height=\"5\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45)\"><rect width=\"5\" height=\"5\" fill=\"#fff\"/>\
             <line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"5\" stroke=\"#000\" stroke-width=\"1.5\"/>\
             </pattern></defs>\n<rect width=\"{w:.0}\" height=\"{h:.0}\" fill=\"#fff\"/>\n{}</svg>\n",
            escape(title),
            escape(description),
            self.body
        )
    }
}

/// Text as XML holds it; what XML cannot hold is left out.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\t' => out.push(c),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}

/// Three significant digits, without trailing zeros.
pub(crate) fn three(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".into();
    }
    let digits = (2 - value.abs().log10().floor() as i32).clamp(0, 9);
    let text = format!("{value:.*}", usize::try_from(digits).unwrap_or(0));
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_safe_in_xml() {
        assert_eq!(escape("a<b & \"c\"\u{1}"), "a&lt;b &amp; &quot;c&quot;");
    }

    #[test]
    fn three_digits() {
        for (v, s) in
            [(0.04, "0.04"), (0.012_345, "0.0123"), (312.7, "313"), (0.0, "0"), (1.0, "1")]
        {
            assert_eq!(three(v), s);
        }
    }
}
