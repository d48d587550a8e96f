//! The entries that a device sends: read one by one, so that one that is wrong holds up no other.

use guardcell::ledger::Draft;
use guardcell::ledger::sync::{MOST_PLANTS_SENT, MOST_SENT, Taken};
use guardcell::{Code, Error, read_request};
use serde::Deserialize;
use serde::de::IgnoredAny;

/// Entries that can be recorded, and those that cannot, each with its place in the list.
pub(super) struct Sent {
    pub(super) drafts: Vec<(usize, Draft)>,
    pub(super) refused: Vec<(usize, Taken)>,
    /// Plants that the entries name, all together.
    pub(super) plants: usize,
}

/// Reads `{"entries": […]}`.
///
/// # Errors
/// For a body of another form, for more entries or plants than one request may hold.
pub(super) fn read(body: &[u8]) -> Result<Sent, Error> {
    let list = entries(body)?;
    let mut sent = Sent { drafts: Vec::new(), refused: Vec::new(), plants: 0 };
    for (at, raw) in list.iter().enumerate() {
        match draft(raw) {
            Ok(draft) => {
                sent.plants += draft.event.plants().len();
                if sent.plants > MOST_PLANTS_SENT {
                    return Err(Error::new(
                        Code::TooMany,
                        format!("the entries name more than {MOST_PLANTS_SENT} plants"),
                        "send fewer entries at once",
                    )
                    .at(format!("/entries/{at}")));
                }
                sent.drafts.push((at, draft));
            }
            Err(e) => sent.refused.push((at, Taken::refused(id_of(raw), e))),
        }
    }
    Ok(sent)
}

/// One entry, with an id of its own.
fn draft(json: &[u8]) -> Result<Draft, Error> {
    let draft: Draft = read_request(json)?;
    if draft.id.is_none() {
        return Err(Error::new(
            Code::Missing,
            "the entry has no id",
            "give an id of the device's own, 1 to 64 characters, so that it can be sent again",
        )
        .at("/id"));
    }
    Ok(draft)
}

/// The id of an entry that cannot be read as a whole.
fn id_of(json: &[u8]) -> Option<String> {
    #[derive(Deserialize)]
    struct Named {
        id: String,
    }
    let named: Named = serde_json::from_slice(json).ok()?;
    (named.id.chars().count() <= 64).then_some(named.id)
}

/// The entries as they were written, counted before one of them is read.
fn entries(body: &[u8]) -> Result<Vec<&[u8]>, Error> {
    #[derive(Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Body {
        entries: Vec<IgnoredAny>,
    }
    let hint = "send {\"entries\": […]}, each an entry of the journal";
    let read: Body = serde_json::from_slice(body).map_err(|e| {
        if e.is_data() {
            return Error::new(Code::WrongForm, "the body is no list of entries", hint);
        }
        Error::new(Code::MalformedJson, "the text is not JSON", hint)
            .on_line(e.line() as u64)
            .at_column(e.column() as u64)
    })?;
    let count = read.entries.len();
    if !(1..=MOST_SENT).contains(&count) {
        let detail = format!("there are {count} entries");
        return Err(Error::new(Code::TooMany, detail, format!("send 1 to {MOST_SENT} at once"))
            .at("/entries"));
    }
    slices(body, count).ok_or_else(|| Error::new(Code::WrongForm, "the body is no object", hint))
}

/// The parts of a body that is known to hold one list of so many items, and nothing else.
fn slices(body: &[u8], count: usize) -> Option<Vec<&[u8]>> {
    let body = body.trim_ascii_start().strip_prefix(b"{")?;
    let mut rest = body.get(body.iter().position(|b| *b == b'[')? + 1..)?;
    let mut list = Vec::with_capacity(count);
    for _ in 0..count {
        let mut items = serde_json::Deserializer::from_slice(rest).into_iter::<IgnoredAny>();
        items.next()?.ok()?;
        let (item, behind) = rest.split_at_checked(items.byte_offset())?;
        list.push(item);
        // The comma, or the end of the list.
        rest = behind.trim_ascii_start().get(1..)?;
    }
    Some(list)
}

/// The results in the order of the list.
pub(super) fn merged(
    places: &[usize],
    taken: Vec<Taken>,
    refused: Vec<(usize, Taken)>,
) -> Vec<Taken> {
    let mut all: Vec<(usize, Taken)> = places.iter().copied().zip(taken).chain(refused).collect();
    all.sort_by_key(|(at, _)| *at);
    all.into_iter().map(|(_, taken)| taken).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::ledger::sync::EntryOutcome;

    const GOOD: &str = r#"{"id":"a","at":"2026-06-21T18:00:00Z","site":"house","event":{"kind":"wipe","plants":["F1"]}}"#;

    fn body(entries: &[&str]) -> Vec<u8> {
        format!(r#"{{"entries":[{}]}}"#, entries.join(",")).into_bytes()
    }

    #[test]
    fn one_wrong_entry_holds_up_no_other() {
        let nameless = GOOD.replace(r#""id":"a","#, "");
        let stray = GOOD.replace("site", "sites");
        let deep = format!("{}1{}", "[".repeat(60), "]".repeat(60));
        let sent = read(&body(&[&stray, GOOD, &nameless, "7", &deep])).unwrap();
        assert_eq!((sent.drafts.len(), sent.drafts[0].0, sent.plants), (1, 1, 1));
        let refused: Vec<_> = sent
            .refused
            .iter()
            .map(|(at, t)| (*at, t.id.as_deref(), t.error.as_ref().unwrap().code()))
            .collect();
        assert_eq!(
            refused,
            [
                (0, Some("a"), Code::WrongForm),
                (2, None, Code::Missing),
                (3, None, Code::WrongForm),
                (4, None, Code::TooDeep),
            ]
        );
        let taken = vec![Taken::kept("a".into(), 7, false)];
        let all = merged(&[1], taken, sent.refused);
        assert_eq!(all.len(), 5);
        assert_eq!((all[1].outcome, all[1].sequence), (EntryOutcome::Accepted, Some(7)));
    }

    #[test]
    fn lists_are_bounded_before_work_starts() {
        let code = |body: &[u8]| read(body).map(|s| s.drafts.len()).map_err(|e| e.code());
        assert_eq!(code(&body(&[GOOD; MOST_SENT])), Ok(MOST_SENT));
        assert_eq!(code(&body(&[GOOD; MOST_SENT + 1])), Err(Code::TooMany));
        assert_eq!(code(&body(&[])), Err(Code::TooMany));
        let plants: Vec<String> = (0..5_000).map(|i| format!("\"F{i}\"")).collect();
        let many = GOOD.replace("\"F1\"", &plants.join(","));
        let many = many.as_str();
        assert_eq!(code(&body(&[many; 10])), Ok(10));
        assert_eq!(code(&body(&[many; 11])), Err(Code::TooMany));
        for wrong in ["{}", "7", r#"{"entries":7}"#, r#"{"entries":[],"x":1}"#, "[]"] {
            assert_eq!(code(wrong.as_bytes()), Err(Code::WrongForm), "{wrong}");
        }
        let twice = format!(r#"{{"entries":[{GOOD}],"entries":[{GOOD}]}}"#);
        assert_eq!(code(twice.as_bytes()), Err(Code::WrongForm));
        for wrong in ["", "{", r#"{"entries":["#, r#"{"entries":[}"#, "\u{1}"] {
            assert_eq!(code(wrong.as_bytes()), Err(Code::MalformedJson), "{wrong}");
        }
        let spaced = format!(" {{ \"entries\" : [ {GOOD} ,\n\t{GOOD}\r\n] }} ");
        assert_eq!(code(spaced.as_bytes()), Ok(2));
        assert_eq!(code(format!("[[{GOOD}]]").as_bytes()), Err(Code::WrongForm));
        let after = [body(&[GOOD]), b"x".to_vec()].concat();
        assert_eq!(code(&after), Err(Code::MalformedJson));
    }
}
