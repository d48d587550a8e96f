//! What the reader of a conversion has to know.

use super::request::ConvertRequest;
use crate::dimension::Dimension as D;
use crate::text::{Quantity, Unit};

/// What was assumed on the way, and the sources used.
#[derive(Clone, Debug, Default)]
pub(super) struct Notes {
    pub(super) notes: Vec<String>,
    pub(super) sources: Vec<String>,
    /// Nothing is recorded: the notes are known from an earlier number.
    silent: bool,
}

impl Notes {
    pub(super) fn silent() -> Self {
        Self { silent: true, ..Self::default() }
    }

    pub(super) fn note_with(&mut self, text: impl FnOnce() -> String) {
        if !self.silent {
            self.note(text());
        }
    }

    pub(super) fn note(&mut self, text: impl Into<String>) {
        if self.silent {
            return;
        }
        let text = text.into();
        if !self.notes.contains(&text) {
            self.notes.push(text);
        }
    }

    pub(super) fn source(&mut self, text: &str) {
        if !self.silent && !self.sources.iter().any(|s| s == text) {
            self.sources.push(text.to_owned());
        }
    }

    /// Notes and sources that follow from the texts of a request.
    pub(super) fn about(&mut self, request: &ConvertRequest, from: &Quantity, answer: &Quantity) {
        if request.ppm_means.is_some() && Quantity::parse(&request.quantity).is_err() {
            let words = from.unit_words();
            self.note(format!("a bare ppm is read as {words}, by the setting"));
        }
        self.about_spelling(&request.quantity, &from.unit());
        self.about_spelling(&request.to, &answer.unit());
        self.about_ppm(&request.quantity, from);
        self.about_ppm(&request.to, answer);
        self.about_sources(from);
        self.about_sources(answer);
    }

    fn about_spelling(&mut self, text: &str, unit: &Unit) {
        let lower = text.to_lowercase();
        let us = unit.definitions().any(|d| d.code.ends_with("_us]"));
        if us && !lower.contains("us") && !lower.contains("u.s") {
            self.note(
                "gal, qt, pt, cup, fl oz, tbsp and tsp are read as US measures; \
                 write imp gal, metric tsp and so on for the others",
            );
        }
        if unit.definitions().any(|d| d.code == "[drp]") {
            self.note(
                "a drop is taken as 1/20 mL; drops of real bottles run from about 0.03 to 0.07 mL, \
                 so count how many make 1 mL",
            );
        }
        if unit.code() == "1:N" && text.contains(':') {
            self.note(
                "1:N is read as 1 part of stock in N parts of finished feed; \
                 write 1 + N for 1 part to N parts of water",
            );
        }
    }

    fn about_ppm(&mut self, text: &str, q: &Quantity) {
        let mass =
            matches!(q.dimension(), D::AsBasis | D::FeedStrength | D::Hardness | D::Alkalinity);
        let lower = text.to_lowercase();
        if mass && (lower.contains("ppm") || lower.contains("ppb")) {
            self.note("ppm of a dilute solution is taken as mg/L (1 L weighs 1 kg)");
        }
    }

    fn about_sources(&mut self, q: &Quantity) {
        for definition in q.unit().definitions() {
            self.source(definition.source);
        }
        if q.subject().basis().is_some() || matches!(q.dimension(), D::Hardness | D::Alkalinity) {
            self.source(
                "Prohaska et al. 2022, standard atomic weights 2021 (abridged), \
                 doi:10.1515/pac-2019-0603",
            );
        }
    }
}
