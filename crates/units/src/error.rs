//! What can be wrong with a written quantity: each error says what, where and what would be right.

use core::fmt;

/// An error of this crate: the [`Problem`], the column it stands at, and the text that was read.
///
/// ```
/// use guardcell_units::text::Quantity;
/// let error = Quantity::parse("300 ppm").unwrap_err();
/// assert_eq!(error.column(), Some(5));
/// assert_eq!(error.code(), "ambiguous-ppm");
/// assert!(error.to_string().contains("ppm N"));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct UnitError(Box<Inner>);

#[derive(Clone, Debug, PartialEq)]
struct Inner {
    problem: Problem,
    column: Option<usize>,
    text: Option<String>,
    pointer: Option<&'static str>,
}

impl UnitError {
    /// An error without a place (of a value, not of a text).
    pub(crate) fn new(problem: Problem) -> Self {
        Self(Box::new(Inner { problem, column: None, text: None, pointer: None }))
    }

    /// An error at a column of a text, counted in characters from 1.
    pub(crate) fn at(problem: Problem, column: usize) -> Self {
        let mut error = Self::new(problem);
        error.0.column = Some(column);
        error
    }

    /// Adds the column where there is none yet.
    pub(crate) fn or_at(mut self, column: usize) -> Self {
        self.0.column.get_or_insert(column);
        self
    }

    /// Adds the text that was read, shortened and made safe to print.
    pub(crate) fn reading(mut self, text: &str) -> Self {
        self.0.text.get_or_insert_with(|| printable(text, 60));
        self
    }

    /// Adds the JSON Pointer of the request field.
    pub(crate) fn in_field(mut self, pointer: &'static str) -> Self {
        self.0.pointer.get_or_insert(pointer);
        self
    }

    /// What is wrong.
    ///
    /// ```
    /// use guardcell_units::error::Problem;
    /// let error = guardcell_units::parse_mass("5 tps").unwrap_err();
    /// assert!(matches!(error.problem(), Problem::UnknownWord { .. }));
    /// ```
    #[must_use]
    pub fn problem(&self) -> &Problem {
        &self.0.problem
    }

    /// The column it stands at, counted in characters from 1, where a text was read.
    ///
    /// ```
    /// let error = guardcell_units::parse_mass("5 tps").unwrap_err();
    /// assert_eq!(error.column(), Some(3));
    /// ```
    #[must_use]
    pub fn column(&self) -> Option<usize> {
        self.0.column
    }

    /// The text that was read, shortened to 60 characters, control characters escaped.
    ///
    /// ```
    /// let error = guardcell_units::parse_mass("5 tps").unwrap_err();
    /// assert_eq!(error.text(), Some("5 tps"));
    /// ```
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        self.0.text.as_deref()
    }

    /// The field of the request, as a JSON Pointer (RFC 6901), where a request was read.
    ///
    /// ```
    /// use guardcell_units::{ConvertRequest, convert};
    /// let request = ConvertRequest { quantity: "5 tps".into(), to: "g".into(), ..Default::default() };
    /// assert_eq!(convert(&request).unwrap_err().pointer(), Some("/quantity"));
    /// ```
    #[must_use]
    pub fn pointer(&self) -> Option<&'static str> {
        self.0.pointer
    }

    /// A short name of the kind of problem, kebab-case, stable for programs.
    ///
    /// ```
    /// let error = guardcell_units::parse_mass("5 tps").unwrap_err();
    /// assert_eq!(error.code(), "unknown-word");
    /// ```
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.0.problem.code()
    }

    /// What would be right.
    ///
    /// ```
    /// let error = guardcell_units::parse_mass("5 tps").unwrap_err();
    /// assert!(error.remedy().contains("tsp"));
    /// ```
    #[must_use]
    pub fn remedy(&self) -> String {
        self.0.problem.remedy()
    }
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(pointer) = self.0.pointer {
            write!(f, "{pointer}: ")?;
        }
        match (&self.0.text, self.0.column) {
            (Some(text), Some(column)) => write!(f, "\"{text}\", column {column}: ")?,
            (Some(text), None) => write!(f, "\"{text}\": ")?,
            (None, Some(column)) => write!(f, "column {column}: ")?,
            (None, None) => {}
        }
        write!(f, "{}. {}", self.0.problem, self.0.problem.remedy())
    }
}

impl std::error::Error for UnitError {}

/// Makes text safe to print in a message: control characters escaped, at most `limit` characters.
pub(crate) fn printable(text: &str, limit: usize) -> String {
    let mut out = String::new();
    for (n, c) in text.chars().enumerate() {
        if n == limit {
            out.push('…');
            break;
        }
        if c.is_control() || ('\u{200b}'..='\u{200f}').contains(&c) || c == '\u{feff}' {
            out.extend(c.escape_unicode());
        } else {
            out.push(c);
        }
    }
    out
}

/// The kinds of problem.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Problem {
    /// Nothing was written.
    #[error("nothing is written here")]
    Empty,
    /// More text than a quantity can need.
    #[error("this is {length} characters long, too long for a quantity")]
    TooLong {
        /// Its length in characters.
        length: usize,
    },
    /// A character that no quantity has.
    #[error("the character {character} has no place in a quantity")]
    UnexpectedCharacter {
        /// The character, quoted or as its code point.
        character: String,
    },
    /// There is a unit but no number.
    #[error("there is no number")]
    NoNumber,
    /// A number that cannot be read.
    #[error("\"{text}\" cannot be read as a number: {why}")]
    BadNumber {
        /// What was written.
        text: String,
        /// What is wrong with it.
        why: &'static str,
    },
    /// A comma that may group thousands or mark decimals.
    #[error("\"{text}\" may mean {grouped} or {decimal}")]
    AmbiguousNumber {
        /// What was written.
        text: String,
        /// The reading with a comma that groups thousands.
        grouped: String,
        /// The reading with a decimal comma.
        decimal: String,
    },
    /// A second number, such as in a range.
    #[error("a second number, {text}, follows the first")]
    SecondNumber {
        /// The second number.
        text: String,
    },
    /// A number in a target unit.
    #[error("the number {text} stands where only a unit is wanted")]
    UnwantedNumber {
        /// The number.
        text: String,
    },
    /// There is a number but no unit.
    #[error("there is no unit")]
    NoUnit {
        /// What was expected, in words with an example.
        expected: String,
    },
    /// A word that is no unit known here.
    #[error("\"{word}\" is no unit, basis or word known here")]
    UnknownWord {
        /// The word.
        word: String,
        /// Units with a similar spelling.
        similar: Vec<&'static str>,
    },
    /// A word with more than one meaning.
    #[error("\"{word}\" has more than one meaning")]
    AmbiguousWord {
        /// The word.
        word: String,
        /// What to write instead, one for each meaning.
        choices: &'static [&'static str],
    },
    /// Two units, bases or marks where there can be one.
    #[error("\"{second}\" follows \"{first}\", and only one of them can hold")]
    Conflict {
        /// The first.
        first: String,
        /// The second.
        second: String,
    },
    /// A unit expression that means nothing here, such as mass times length.
    #[error("\"{unit}\" is no quantity known here")]
    NoSuchQuotient {
        /// The unit.
        unit: String,
    },
    /// A ppm that does not say of what.
    #[error("{amount} ppm of what? A bare ppm is ambiguous")]
    AmbiguousPpm {
        /// The number, as written (empty for a target unit).
        amount: String,
    },
    /// A mass concentration that does not say of what, where that matters.
    #[error("{amount} does not say what it counts")]
    NoBasis {
        /// The quantity.
        amount: String,
        /// Example bases.
        examples: &'static str,
    },
    /// Equivalents of something that is no ion of one definite charge.
    #[error("{basis} is no ion of one definite charge, so its equivalents are not defined")]
    NoCharge {
        /// The basis.
        basis: &'static str,
    },
    /// A quantity of another kind than asked for.
    #[error("{found} is {is}, and {expected} was expected")]
    WrongDimension {
        /// The quantity.
        found: String,
        /// Its kind with an article.
        is: &'static str,
        /// The expected kind with an article.
        expected: &'static str,
        /// An example of what would be right.
        example: &'static str,
    },
    /// Two kinds that do not convert into each other.
    #[error("{from} does not convert to {to}: {why}")]
    NotConvertible {
        /// The quantity.
        from: String,
        /// The target.
        to: String,
        /// Why not.
        why: String,
        /// What to do instead.
        instead: &'static str,
    },
    /// A volume of powder is to become a mass, or the reverse.
    #[error(
        "{from} to {to} needs the bulk density of the powder, which differs from product to product"
    )]
    NeedsBulkDensity {
        /// The quantity.
        from: String,
        /// The target.
        to: String,
    },
    /// A value outside what the quantity can have.
    #[error("{quantity} is {value}")]
    OutOfRange {
        /// What it is.
        quantity: &'static str,
        /// The value.
        value: String,
        /// What is possible.
        range: String,
    },
}

impl Problem {
    /// A short name, kebab-case.
    ///
    /// ```
    /// assert_eq!(guardcell_units::error::Problem::NoNumber.code(), "no-number");
    /// ```
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Empty => "empty",
            Self::TooLong { .. } => "too-long",
            Self::UnexpectedCharacter { .. } => "unexpected-character",
            Self::NoNumber => "no-number",
            Self::BadNumber { .. } => "bad-number",
            Self::AmbiguousNumber { .. } => "ambiguous-number",
            Self::SecondNumber { .. } => "second-number",
            Self::UnwantedNumber { .. } => "unwanted-number",
            Self::NoUnit { .. } => "no-unit",
            Self::UnknownWord { .. } => "unknown-word",
            Self::AmbiguousWord { .. } => "ambiguous-word",
            Self::Conflict { .. } => "conflict",
            Self::NoSuchQuotient { .. } => "no-such-quotient",
            Self::AmbiguousPpm { .. } => "ambiguous-ppm",
            Self::NoBasis { .. } => "no-basis",
            Self::NoCharge { .. } => "no-charge",
            Self::WrongDimension { .. } => "wrong-dimension",
            Self::NotConvertible { .. } => "not-convertible",
            Self::NeedsBulkDensity { .. } => "needs-bulk-density",
            Self::OutOfRange { .. } => "out-of-range",
        }
    }

    fn remedy(&self) -> String {
        match self {
            Self::Empty => "Write a number and a unit, such as 150 ppm N".to_owned(),
            Self::TooLong { .. } => "Write one number and one unit, such as 150 ppm N".to_owned(),
            Self::UnexpectedCharacter { .. } => {
                "Write a number and a unit in plain letters, such as 1.4 mS/cm".to_owned()
            }
            Self::NoNumber => "Write one, such as 150 before the unit".to_owned(),
            Self::BadNumber { .. } => "Write it as 1400, 1.4, 1,4, 1/4, 1 1/2 or 1.4e3".to_owned(),
            Self::AmbiguousNumber { grouped, decimal, .. } => {
                format!("Write {grouped} or {decimal} without a comma")
            }
            Self::SecondNumber { .. } => {
                "Write one number; convert the ends of a range one by one".to_owned()
            }
            Self::UnwantedNumber { .. } => {
                "Write the unit alone, such as ppm P or mS/cm at 25 °C".to_owned()
            }
            Self::NoUnit { expected } => format!("Write {expected}"),
            Self::UnknownWord { similar, .. } => {
                if similar.is_empty() {
                    "Write a unit such as mg/L, mS/cm, tsp/gal or °dH, and a basis such as N or P2O5"
                        .to_owned()
                } else {
                    format!("Did you mean {}?", similar.join(" or "))
                }
            }
            Self::AmbiguousWord { choices, .. } => format!("Write {}", choices.join(" or ")),
            Self::Conflict { .. } => "Keep one of them".to_owned(),
            Self::NoSuchQuotient { .. } => {
                "Write a quotient such as mg/L, tsp/gal, oz/100 gal, mS/cm, m/s or g/m2".to_owned()
            }
            Self::AmbiguousPpm { amount } => {
                let n = if amount.is_empty() { String::new() } else { format!("{amount} ") };
                format!(
                    "Write {n}ppm N (or another nutrient: ppm P, ppm P2O5, ppm K …), \
                     {n}ppm meter 500, {n}ppm meter 640 or {n}ppm meter 700 (what a meter on that \
                     scale shows), or {n}ppm feed (everything dissolved from the feed)"
                )
            }
            Self::NoBasis { examples, .. } => format!("Add the basis, such as {examples}"),
            Self::NoCharge { .. } => {
                "Write the ion, such as meq/L NO3, or use mg/L or mmol/L".to_owned()
            }
            Self::WrongDimension { example, .. } => format!("Write it like {example}"),
            Self::NotConvertible { instead, .. } => (*instead).to_owned(),
            Self::NeedsBulkDensity { from, to } => {
                let liquid = if from.contains(" oz") || to.starts_with("oz") {
                    ". If a liquid ounce is meant, write fl oz"
                } else {
                    ""
                };
                format!(
                    "Weigh it: tare a cup, add ten level spoonfuls of the dry powder, poured and \
                     struck off without pressing, and divide the grams by ten; give that as the \
                     bulk density, such as 4.6 g/tsp or 0.93 g/mL{liquid}"
                )
            }

            Self::OutOfRange { range, .. } => format!("It has to be {range}"),
        }
    }
}
