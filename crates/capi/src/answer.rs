//! What is answered, without pointers: a text and how the call ended.

use guardcell::calls::named;
use guardcell::{Code, Error};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How a call ended, with its text: the answer, or the error as JSON.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Ended {
    /// The answer.
    Answer(Vec<u8>),
    /// The request was refused.
    Refused(Error),
    /// A fault of guardcell itself.
    Fault(Error),
}

impl Ended {
    /// Answers a request. `None` is a null pointer.
    pub(crate) fn of(name: Option<&[u8]>, request: Option<&[u8]>) -> Self {
        Self::guarded(|| answered(name, request))
    }

    /// Runs what may panic; a panic becomes a fault.
    fn guarded(run: impl FnOnce() -> Result<Vec<u8>, Error>) -> Self {
        // Nothing that it borrows is seen again after it unwound.
        match catch_unwind(AssertUnwindSafe(run)) {
            Ok(Ok(answer)) => Self::Answer(answer),
            Ok(Err(e)) if e.code() == Code::Internal => Self::Fault(e),
            Ok(Err(e)) => Self::Refused(e),
            Err(_) => Self::Fault(Error::internal("the calculation broke off")),
        }
    }

    /// The text that is handed over: JSON in UTF-8 without a NUL in it.
    pub(crate) fn into_text(self) -> Vec<u8> {
        match self {
            Self::Answer(text) => text,
            Self::Refused(e) | Self::Fault(e) => serde_json::to_vec(&e).unwrap_or_default(),
        }
    }
}

fn answered(name: Option<&[u8]>, request: Option<&[u8]>) -> Result<Vec<u8>, Error> {
    let name = name.ok_or_else(|| null("name", "the name of a call"))?;
    let request = request.ok_or_else(|| null("request", "a request as JSON"))?;
    let name = std::str::from_utf8(name).map_err(|e| {
        Error::new(Code::InvalidText, "the name is not UTF-8", "give the name of a call")
            .caused_by(e)
    })?;
    named(name)?.run(request)
}

fn null(argument: &str, right: &str) -> Error {
    Error::new(Code::Missing, format!("`{argument}` is a null pointer"), format!("give {right}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(name: Option<&[u8]>, request: Option<&[u8]>) -> (Code, String) {
        match Ended::of(name, request) {
            Ended::Refused(e) => (e.code(), e.pointer().to_owned()),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn what_c_may_give_instead_of_text_is_refused() {
        assert_eq!(refused(None, Some(b"{}")).0, Code::Missing);
        assert_eq!(refused(Some(b"air"), None).0, Code::Missing);
        assert_eq!(refused(Some(b"a\xffr"), Some(b"{}")).0, Code::InvalidText);
        assert_eq!(refused(Some(b"air"), Some(b"{\"temp_c\": \"\xff\"}")).0, Code::MalformedJson);
        assert_eq!(refused(Some(b""), Some(b"{}")).0, Code::UnknownCall);
        let warm = br#"{"temp_c": "warm", "rh_percent": 70}"#;
        assert_eq!(refused(Some(b"air"), Some(warm)), (Code::WrongForm, "/temp_c".into()));
    }

    #[test]
    fn a_panic_becomes_a_fault() {
        let ended = Ended::guarded(|| std::panic::resume_unwind(Box::new("broken")));
        assert!(matches!(&ended, Ended::Fault(e) if e.code() == Code::Internal), "{ended:?}");
        assert!(ended.into_text().starts_with(b"{\"code\":\"internal\""));
    }

    #[test]
    fn no_text_holds_a_nul() {
        // JSON escapes it (RFC 8259, section 7), also where a request has it in a string.
        let error = Ended::of(Some(b"gen\0us"), Some(b"{}"));
        assert!(!error.into_text().contains(&0));
        let error = Ended::of(Some(b"convert"), Some(br#"{"quantity": "\u0000", "to": "g"}"#));
        assert!(matches!(error, Ended::Refused(_)));
        assert!(!error.into_text().contains(&0));
    }
}
