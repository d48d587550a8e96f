//! Reasons: every answer says why, from what, and by which source.

use crate::phrases;
use crate::reason_code::ReasonCode;
use guardcell_reference::Parameter;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// One reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reason {
    /// The code, kebab-case English: one of [`codes`].
    pub code: String,
    /// What it says, in plain words with the numbers in them.
    pub message: String,
    /// The inputs it rests on, each with its unit in its name.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub inputs: Map<String, Value>,
    /// Keys of the works it rests on, or `common practice, no source`, or `from memory`.
    #[serde(default)]
    pub sources: Vec<String>,
}

impl Reason {
    /// A reason without inputs or sources yet.
    #[must_use]
    pub fn new(code: ReasonCode, message: impl Into<String>) -> Self {
        Self {
            code: code.as_str().to_owned(),
            message: message.into(),
            inputs: Map::new(),
            sources: Vec::new(),
        }
    }

    /// Adds an input.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.inputs.insert(name.to_owned(), value.into());
        self
    }

    /// Adds the sources of a parameter, or what it rests on where it has none.
    #[must_use]
    pub fn with_parameter<U>(mut self, p: Parameter<U>) -> Self {
        if p.sources.is_empty() {
            self.push_source(p.basis.word());
        }
        for s in p.sources {
            self.push_source(s);
        }
        self
    }

    /// Adds a source.
    #[must_use]
    pub fn source(mut self, key: &str) -> Self {
        self.push_source(key);
        self
    }

    /// Adds the words from the catalogue, made from the code and the inputs.
    #[must_use]
    pub(crate) fn worded(mut self, code: ReasonCode, variant: &str) -> Self {
        self.message = phrases::filled(phrases::phrase(code, variant), &self.inputs);
        self
    }

    fn push_source(&mut self, key: &str) {
        if !self.sources.iter().any(|s| s == key) {
            self.sources.push(key.to_owned());
        }
    }
}

/// A reason whose words come from the catalogue once its inputs are complete.
#[derive(Debug, Clone)]
pub(crate) struct Draft {
    code: ReasonCode,
    reason: Reason,
}

impl Draft {
    pub(crate) fn new(code: ReasonCode) -> Self {
        Self { code, reason: Reason::new(code, "") }
    }

    pub(crate) fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.reason = self.reason.with(name, value);
        self
    }

    pub(crate) fn source(mut self, key: &str) -> Self {
        self.reason = self.reason.source(key);
        self
    }

    pub(crate) fn with_parameter<U>(mut self, p: Parameter<U>) -> Self {
        self.reason = self.reason.with_parameter(p);
        self
    }

    /// The reason in the usual words of its code.
    pub(crate) fn done(self) -> Reason {
        self.variant("")
    }

    /// The reason in a variant of the words of its code.
    pub(crate) fn variant(self, variant: &str) -> Reason {
        self.reason.worded(self.code, variant)
    }
}

impl From<&guardcell_clock::Reason> for Reason {
    fn from(r: &guardcell_clock::Reason) -> Self {
        let mut reason = Self {
            code: r.code.as_str().to_owned(),
            message: r.code.message().to_owned(),
            inputs: Map::new(),
            sources: Vec::new(),
        };
        for b in &r.inputs {
            reason = reason.with(b.name, b.value);
        }
        for key in r.code.sources() {
            reason.push_source(key);
        }
        if reason.sources.is_empty() {
            for p in r.code.parameters() {
                reason.push_source(p.basis.word());
            }
        }
        reason
    }
}

/// Every code that an answer can carry, with what it means: those of the advice and those of the
/// clock.
pub fn codes() -> impl Iterator<Item = (&'static str, &'static str)> {
    let own = ReasonCode::TABLE.iter().map(|(_, code, about)| (*code, *about));
    let clock = guardcell_clock::Code::ALL.iter().map(|c| (c.as_str(), c.message()));
    own.chain(clock)
}

/// Something that was not known, and how much it matters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Unknown {
    /// What was not known.
    pub what: String,
    /// What was assumed instead.
    pub assumed: String,
    /// How far the answer moves over the plausible range: the change of the probability of
    /// visible residue, or of the probability that the stomata are open, 0 to 1.
    pub spread: f64,
    /// How to find out.
    pub measure: String,
    /// In a round: the ids of the plants it holds for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub plants: Vec<String>,
}
