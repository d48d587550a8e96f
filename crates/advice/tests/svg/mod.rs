//! What a picture draws, read back from its SVG.

use std::collections::HashMap;

/// An element: name, attributes, text.
pub(crate) struct Element {
    pub(crate) name: String,
    pub(crate) attributes: HashMap<String, String>,
    pub(crate) text: String,
}

impl Element {
    pub(crate) fn number(&self, name: &str) -> f64 {
        self.attributes[name].parse().unwrap()
    }

    pub(crate) fn is(&self, name: &str, attribute: &str, value: &str) -> bool {
        self.name == name && self.attributes.get(attribute).is_some_and(|v| v == value)
    }

    pub(crate) fn says(&self, text: &str) -> bool {
        self.name == "text" && self.text == text
    }

    pub(crate) fn points(&self) -> Vec<(f64, f64)> {
        let pair = |p: &str| {
            let (x, y) = p.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        };
        self.attributes["points"].split(' ').map(pair).collect()
    }
}

/// The elements in order, behind the pattern of the hatching and the white ground.
pub(crate) fn elements(svg: &str) -> Vec<Element> {
    let drawn = svg.split("</defs>").nth(1).unwrap();
    let tags = drawn.split('<').skip(2).filter(|t| !t.starts_with('/'));
    tags.map(|tag| {
        let (head, text) = tag.split_once('>').unwrap();
        let (name, rest) = head.trim_end_matches('/').split_once(' ').unwrap_or((head, ""));
        let parts: Vec<&str> = rest.split('"').collect();
        let attributes = parts
            .chunks_exact(2)
            .map(|p| (p[0].trim().trim_end_matches('=').to_owned(), p[1].to_owned()));
        Element { name: name.to_owned(), attributes: attributes.collect(), text: text.to_owned() }
    })
    .collect()
}

/// To the tenth that is written.
pub(crate) fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 0.11, "{found}, expected {expected}");
}
