//! Whether something was recorded already: the same kind, about the same time, mostly the same
//! plants. It is said and not refused: two soaks or two passes an hour apart are no mistake.

use guardcell::ledger::{Draft, Entry, Event};
use jiff::{SignedDuration, Timestamp};

/// Entries this close in time may be one.
const WITHIN: SignedDuration = SignedDuration::from_mins(45);

/// The entries that some drafts may repeat, each once.
pub(super) fn found(drafts: &[Draft], before: &[Entry]) -> Vec<Entry> {
    let mut out: Vec<Entry> = Vec::new();
    // A correction stands for another entry on purpose.
    for draft in drafts.iter().filter(|d| d.supersedes.is_none()) {
        let same = before.iter().find(|e| draft.id.as_ref() != Some(&e.id) && repeats(draft, e));
        if let Some(entry) = same.filter(|e| !out.iter().any(|o| o.id == e.id)) {
            out.push(entry.clone());
        }
    }
    out
}

fn repeats(draft: &Draft, entry: &Entry) -> bool {
    let time = |t: &str| t.parse::<Timestamp>().ok();
    let near = match (time(&draft.at), time(&entry.at)) {
        (Some(a), Some(b)) => a.duration_since(b).abs() <= WITHIN,
        _ => false,
    };
    let strengths = match (&draft.event, &entry.event) {
        (Event::Round(a), Event::Round(b)) => a.feed_strength_mg_l == b.feed_strength_mg_l,
        (Event::RootFeed(a), Event::RootFeed(b)) => a.feed_strength_mg_l == b.feed_strength_mg_l,
        (Event::Soak(_), Event::Soak(_)) | (Event::Flush(_), Event::Flush(_)) => true,
        _ => false,
    };
    if !near || !strengths || draft.site != entry.site {
        return false;
    }
    let (now, then) = (draft.event.plants(), entry.event.plants());
    let shared = now.iter().filter(|p| then.contains(p)).count();
    shared > 0 && 2 * shared >= now.len().min(then.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft(at: &str, plants: &str, mg_l: u32) -> Draft {
        let text = format!(
            "{{\"at\":\"{at}\",\"site\":\"S\",\"event\":{{\"kind\":\"round\",\"plants\":[{plants}],\
             \"feed_strength_mg_l\":{mg_l},\"passes\":1}}}}"
        );
        guardcell::read_request(text.as_bytes()).unwrap()
    }

    #[test]
    fn the_same_sitting_is_seen_and_another_is_not() {
        let (a, b) = ("{\"plant\":\"A\"}", "{\"plant\":\"B\"}");
        let both = format!("{a},{b}");
        let old = draft("2026-06-21T06:00:00Z", &both, 150);
        let old = old.checked("old", "2026-06-21T07:00:00Z").unwrap();
        let seen = |at: &str, plants: &str, mg_l| {
            !found(&[draft(at, plants, mg_l)], std::slice::from_ref(&old)).is_empty()
        };
        assert!(seen("2026-06-21T06:00:00Z", &both, 150));
        assert!(seen("2026-06-21T06:30:00Z", a, 150));
        assert!(!seen("2026-06-21T07:00:00Z", &both, 150), "an hour later");
        assert!(!seen("2026-06-21T06:00:00Z", &both, 300), "another strength");
        assert!(!seen("2026-06-21T06:00:00Z", "{\"plant\":\"C\"}", 150), "other plants");
    }
}
