//! The trait that every function offered to other programs implements.

use crate::Work;
use guardcell_error::Error;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// What travels as JSON.
pub trait Wire: Serialize + DeserializeOwned + Send + Sync + 'static {}
impl<T: Serialize + DeserializeOwned + Send + Sync + 'static> Wire for T {}

/// The part of the documentation to which a call belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Group {
    /// Advice on plants and rounds.
    Advice,
    /// Water, labels and solutions.
    Solution,
    /// The parts of the model on their own.
    Model,
    /// Reference data on plant names.
    Taxa,
    /// The journal: what was done and seen, and what follows from it.
    Journal,
    /// A grower's files, read from their text.
    Files,
}

impl Group {
    /// The group as a tag of the API description.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Advice => "advice",
            Self::Solution => "solution",
            Self::Model => "model",
            Self::Taxa => "taxa",
            Self::Journal => "journal",
            Self::Files => "files",
        }
    }
}

/// A pure function that other programs can call: the same request always gives the same response.
pub trait Call: 'static {
    /// What is asked.
    type Request: Wire;
    /// The answer.
    type Response: Wire;
    /// The name by which programs call it, snake_case: `convert`, `strength_chart`.
    const NAME: &'static str;
    /// The path of the HTTP API behind `/v1/`: `conversions`, `charts/strength`.
    const PATH: &'static str;
    /// The part of the documentation to which it belongs.
    const GROUP: Group;
    /// One line: what it answers.
    const SUMMARY: &'static str;
    /// A paragraph: what it needs, what it does, how far the answer can be trusted.
    const DESCRIPTION: &'static str;
    /// An example request as JSON, usually `include_str!("../calls/NAME.json")`.
    const EXAMPLE: &'static str;

    /// The answer drawn as SVG, where it can be drawn.
    const PICTURE: Option<fn(&Self::Response) -> String> = None;

    /// What the request costs, before anything is calculated; a face refuses what is over
    /// [`Work::MOST`] and puts dear requests behind cheap ones.
    fn work(request: &Self::Request) -> Work {
        let _ = request;
        Work::SMALL
    }

    /// Answers the request.
    ///
    /// # Errors
    /// An [`Error`] with a JSON Pointer into the request.
    fn run(request: &Self::Request) -> Result<Self::Response, Error>;
}
