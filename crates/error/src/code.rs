//! The kinds of fault, each declared once: variant, wire code, title, explanation.

use core::fmt;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

macro_rules! codes {
    ($($variant:ident $code:literal $title:literal $about:literal;)*) => {
        /// The kind of a fault. Stable for programs; kebab-case on the wire.
        ///
        /// ```
        /// use guardcell_error::Code;
        /// assert_eq!(Code::DuplicateId.as_str(), "duplicate-id");
        /// assert_eq!("duplicate-id".parse(), Ok(Code::DuplicateId));
        /// ```
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[non_exhaustive]
        pub enum Code {
            $(#[doc = $about] $variant,)*
        }

        impl Code {
            /// Every code, in the order of the documentation.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// The code as written on the wire.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $code,)* }
            }

            /// A short title, the same for every occurrence.
            #[must_use]
            pub const fn title(self) -> &'static str {
                match self { $(Self::$variant => $title,)* }
            }

            /// What the code means, for the page of problem types.
            #[must_use]
            pub const fn about(self) -> &'static str {
                match self { $(Self::$variant => $about,)* }
            }
        }
    };
}

codes! {
    // Values
    OutOfRange "out-of-range" "Value out of range" "A number lies outside the range that is declared for its field.";
    Missing "missing" "Required value missing" "A value that this answer needs was not given.";
    Unknown "unknown-name" "Unknown name" "A name is not in the list it refers to, such as an area that the site does not have.";
    DuplicateId "duplicate-id" "Duplicate id" "Two entries share an id or a name that must be unique.";
    Conflict "conflict" "Contradicting values" "Two values of the request contradict each other.";
    InvalidText "invalid-text" "Text cannot be read" "A text does not have the form that its field requires, such as a time, a date or a time zone.";
    Unreachable "unreachable" "Target cannot be reached" "The request is well formed, but what it asks for cannot be reached; the detail says what blocks it.";
    OutsideModel "outside-model" "Outside the range of the model" "The inputs lie outside the conditions for which the model is valid.";
    TooMany "too-many" "Too many items or too much work" "The request has more items or needs more work than one call accepts.";
    // Quantities
    Empty "empty" "No quantity" "The text is empty where a quantity is expected.";
    TooLong "too-long" "Text too long" "The text is longer than its field accepts.";
    UnexpectedCharacter "unexpected-character" "Unexpected character" "A character that does not occur in quantities.";
    NoNumber "no-number" "Number missing" "A unit without a number.";
    BadNumber "bad-number" "Number cannot be read" "A number that cannot be read.";
    AmbiguousNumber "ambiguous-number" "Ambiguous number" "A comma that may group thousands or mark decimals.";
    SecondNumber "second-number" "Second number" "A second number, as in a range, where one is expected.";
    UnwantedNumber "unwanted-number" "Number not expected" "A number where only a unit is expected.";
    NoUnit "no-unit" "Unit missing" "A number without a unit where the unit is not obvious.";
    UnknownWord "unknown-word" "Unknown unit or basis" "A word that is not a known unit, basis or keyword.";
    AmbiguousWord "ambiguous-word" "Ambiguous unit" "A word with more than one meaning.";
    AmbiguousPpm "ambiguous-ppm" "Ambiguous ppm" "A bare ppm does not say what it counts.";
    ConflictingUnits "conflicting-units" "Conflicting units" "Two units, bases or marks where only one can apply.";
    NoSuchQuotient "no-such-quotient" "Unknown combination of units" "A combination of units that is not a known quantity.";
    NoBasis "no-basis" "Basis missing" "A concentration does not say of what (as N, as P2O5, as CaCO3).";
    NoCharge "no-charge" "Equivalents not defined" "Equivalents of a substance that is not an ion of one definite charge.";
    WrongDimension "wrong-dimension" "Wrong kind of quantity" "A quantity of another kind than expected.";
    NotConvertible "not-convertible" "Not convertible" "The two quantities do not convert into each other.";
    NeedsBulkDensity "needs-bulk-density" "Bulk density needed" "A volume of powder converts to a mass only with its bulk density.";
    NeedsDensity "needs-density" "Density needed" "A share by mass converts to a mass per volume only with the density of the liquid.";
    NeedsLightSource "needs-light-source" "Light source needed" "Illuminance converts to a photon flux density only with the light source.";
    // Form of requests and files
    MalformedJson "malformed-json" "Malformed JSON" "The text is not JSON (RFC 8259).";
    WrongForm "wrong-form" "Request does not match its schema" "The JSON does not have the form of the schema of the request.";
    TooDeep "too-deep" "JSON nested too deeply" "The JSON is nested more deeply than any request needs.";
    MalformedFile "malformed-file" "File cannot be read" "A file does not have the format that it should have.";
    Stale "stale" "Readings too old" "The newest reading of the air is older than its source may be.";
    NoReadings "no-readings" "No usable reading" "A source of readings has none that can be used.";
    UnknownCall "unknown-call" "Unknown call" "No call has this name.";
    Usage "usage" "Wrong use of a command" "Flags or arguments of a command do not go together.";
    // Around the core: files, network, storage, service
    Io "io" "File or device cannot be read or written" "The operating system refused to read or write.";
    Storage "storage" "Journal cannot be read or written" "The journal file cannot be read or written, or is not a journal.";
    Network "network" "Server cannot be reached" "A server could not be reached or broke off.";
    Remote "remote" "Unexpected answer of a server" "Another server answered something else than expected.";
    NotFound "not-found" "Not found" "Nothing exists at this path or under this id.";
    MethodNotAllowed "method-not-allowed" "Method not allowed" "The path exists but does not accept this method.";
    UnsupportedMediaType "unsupported-media-type" "Unsupported media type" "The body has a media type that this path does not accept.";
    NotAcceptable "not-acceptable" "Not acceptable" "The answer is not available in a media type that the request accepts.";
    TooLarge "too-large" "Body too large" "The body is larger than the server accepts.";
    SlowBody "slow-body" "Body arrived too slowly" "The body did not arrive in time.";
    MalformedHttp "malformed-http" "Malformed HTTP request" "The request does not follow HTTP, for example two headers Host.";
    OtherHost "other-host" "Request for another host" "The request names a host that this server does not serve.";
    NotPaired "not-paired" "Device not paired" "The request needs the token of a paired device: a header Authorization with Bearer and the token.";
    WrongCode "wrong-code" "Pairing code does not work" "The pairing code is wrong, was used already, or is too old.";
    OtherOrigin "other-origin" "Request of another site" "The request was sent by a page of another site, which this server does not list.";
    TooOften "too-often" "Too many requests" "More requests, or more wrong codes or tokens, than the server accepts in this time; the header Retry-After says when to go on.";
    Busy "busy" "Server busy" "The server has more work than it accepts; try again later.";
    Timeout "timeout" "Took too long" "The calculation took longer than the server allows.";
    Internal "internal" "Internal error" "A fault of guardcell itself; please report the request.";
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// The text is not a code of this version.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnknownCode;

impl fmt::Display for UnknownCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("unknown error code")
    }
}

impl core::error::Error for UnknownCode {}

impl core::str::FromStr for Code {
    type Err = UnknownCode;

    fn from_str(text: &str) -> Result<Self, UnknownCode> {
        Self::ALL.iter().copied().find(|code| code.as_str() == text).ok_or(UnknownCode)
    }
}

impl Serialize for Code {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

impl<'de> Deserialize<'de> for Code {
    /// A code of a later version reads as [`Code::Internal`] rather than hiding the rest of the error.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        Ok(text.parse().unwrap_or(Self::Internal))
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Code {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Code".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let names: Vec<&str> = Self::ALL.iter().map(|code| code.as_str()).collect();
        schemars::json_schema!({
            "type": "string",
            "description": "The kind of a fault.",
            "enum": names
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_unique_and_kebab_case() {
        let names: BTreeSet<_> = Code::ALL.iter().map(|c| c.as_str()).collect();
        assert_eq!(names.len(), Code::ALL.len());
        for code in Code::ALL {
            assert!(code.as_str().bytes().all(|b| b.is_ascii_lowercase() || b == b'-'), "{code}");
            assert_eq!(code.as_str().parse(), Ok(*code));
            assert!(code.about().ends_with('.') && !code.title().ends_with('.'), "{code}");
        }
    }

    #[test]
    fn a_later_code_keeps_the_rest_readable() {
        assert_eq!(serde_json::from_str::<Code>("\"not-yet-invented\"").ok(), Some(Code::Internal));
        assert_eq!(
            serde_json::to_string(&Code::AmbiguousPpm).ok().as_deref(),
            Some("\"ambiguous-ppm\"")
        );
    }
}
