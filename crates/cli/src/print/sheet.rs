//! A sheet of parts with lines: on the screen, as Markdown, as HTML.

use crate::print::Out;
use serde::Serialize;

/// The heading of a part on the screen.
const INDENT: usize = 9;

/// A sheet.
#[derive(Debug, Serialize)]
pub(crate) struct Sheet {
    pub(crate) title: String,
    pub(crate) parts: Vec<Part>,
}

/// A part of a sheet.
#[derive(Debug, Serialize)]
pub(crate) struct Part {
    pub(crate) heading: &'static str,
    pub(crate) lines: Vec<String>,
    /// The last lines that the screen shows; a file has all.
    #[serde(skip)]
    pub(crate) shown: usize,
}

impl Sheet {
    /// Adds a part, where it has lines; the screen shows the last of them.
    pub(crate) fn add(&mut self, heading: &'static str, lines: Vec<String>, shown: usize) {
        if !lines.is_empty() {
            self.parts.push(Part { heading, lines, shown });
        }
    }

    pub(crate) fn print(&self, out: &mut Out) {
        out.item("", &self.title);
        for part in &self.parts {
            let mut head = format!("{:<INDENT$}", part.heading);
            let first = part.lines.len().saturating_sub(part.shown);
            if first > 0 {
                out.item(&head, &format!("({first} earlier with --output FILE)"));
                head = " ".repeat(INDENT);
            }
            for line in part.lines.iter().skip(first) {
                out.item(&head, line);
                head = " ".repeat(INDENT);
            }
        }
    }

    /// The sheet as Markdown.
    pub(crate) fn markdown(&self) -> String {
        let mut text = format!("# {}\n", plain_in_markdown(&self.title));
        for part in &self.parts {
            text.push_str(&format!("\n## {}\n\n", sentence(part.heading)));
            for line in &part.lines {
                text.push_str(&format!("- {}\n", plain_in_markdown(line)));
            }
        }
        text
    }

    /// The sheet as a page that needs nothing else and prints on paper.
    pub(crate) fn html(&self) -> String {
        let title = plain_in_html(&self.title);
        let mut text = format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>{title}</title>\n\
             <style>body{{font:16px/1.4 sans-serif;max-width:44em;margin:2em auto;padding:0 1em}}\
             h1{{font-size:1.3em}}h2{{font-size:1em;margin:1em 0 .2em}}ul{{margin:0;padding-left:1.2em}}\
             @media print{{body{{margin:0;font-size:11pt}}}}</style>\n<h1>{title}</h1>\n"
        );
        for part in &self.parts {
            text.push_str(&format!("<h2>{}</h2>\n<ul>\n", sentence(part.heading)));
            for line in &part.lines {
                text.push_str(&format!("<li>{}</li>\n", plain_in_html(line)));
            }
            text.push_str("</ul>\n");
        }
        text.push_str("</html>\n");
        text
    }
}

/// `WHAT IT GOT` as `What it got`.
fn sentence(heading: &str) -> String {
    let lower = heading.to_lowercase();
    let mut letters = lower.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// Foreign text that no reader of Markdown takes for a mark.
fn plain_in_markdown(text: &str) -> String {
    let mut out = String::new();
    for c in guardcell::escape_control(text).chars() {
        if "\\`*_[]<>#|".contains(c) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

fn plain_in_html(text: &str) -> String {
    guardcell::advice::svg::escaped(&guardcell::escape_control(text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn foreign_text_stays_text() {
        let mut sheet = Sheet { title: "A1 <Vanda> & *co*".into(), parts: Vec::new() };
        sheet.add("WHAT IT GOT", vec!["a\u{1b}[2J_b_".into()], 1);
        sheet.add("NOTHING", Vec::new(), 1);
        let markdown = sheet.markdown();
        assert!(markdown.starts_with("# A1 \\<Vanda\\> & \\*co\\*\n\n## What it got\n\n- a"));
        assert!(!markdown.contains('\u{1b}') && !markdown.contains("Nothing"));
        let html = sheet.html();
        assert!(html.contains("<h1>A1 &lt;Vanda&gt; &amp; *co*</h1>"), "{html}");
        assert!(!html.contains('\u{1b}'));
    }
}
