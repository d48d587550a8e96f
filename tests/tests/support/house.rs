//! A folder with a journal behind a server, and devices paired with it.
#![allow(dead_code)] // each test program uses a part of it

use crate::support::{Answer, Running, config, start};
use guardcell::ledger::sync::Paired;
use guardcell::ledger::{Draft, Entry};
use guardcell_journal::{Devices, Journal, Selection};
use guardcell_server::Config;
use guardcell_share::SharedFolder;
use jiff::Timestamp;
use std::path::PathBuf;
use std::sync::Arc;

pub struct House {
    pub server: Running,
    pub dir: tempfile::TempDir,
}

impl House {
    pub fn new() -> Self {
        Self::with(config())
    }

    pub fn with(config: Config) -> Self {
        let dir = tempfile::tempdir().unwrap();
        let path = |name: &str| dir.path().join(name);
        let folder =
            SharedFolder::new("Fernhollow", path("journal.db"), path("devices.db"), || {
                Ok(br#"{"site":{"name":"Fernhollow"},"plants":[],"labels":[]}"#.to_vec())
            });
        let server = start(Config { offer: Some(Arc::new(folder)), ..config });
        Self { server, dir }
    }

    pub fn journal(&self) -> PathBuf {
        self.dir.path().join("journal.db")
    }

    pub fn devices(&self) -> Devices {
        Devices::open(&self.dir.path().join("devices.db")).unwrap()
    }

    pub fn code(&self) -> String {
        self.devices().new_code(None, Timestamp::now()).unwrap().code
    }

    /// The answer to a code; `from` is an address of loopback.
    pub fn try_code(&self, code: &str) -> Answer {
        let body = serde_json::json!({ "code": code, "name": "phone" }).to_string();
        self.server.post("/v1/pair", body.as_bytes())
    }

    /// The token of a device that was just paired.
    pub fn pair(&self) -> String {
        let answer = self.try_code(&self.code());
        assert_eq!(answer.status, 200, "{answer:?}");
        let paired: Paired = serde_json::from_slice(&answer.body).unwrap();
        assert_eq!(paired.site, "Fernhollow");
        paired.token
    }

    pub fn send(&self, token: &str, body: &[u8]) -> Answer {
        let bearer = format!("Bearer {token}");
        let headers = [("content-type", "application/json"), ("authorization", bearer.as_str())];
        self.server.send("POST", "/v1/journal/entries", &headers, body)
    }

    pub fn get(&self, token: &str, path: &str) -> Answer {
        let bearer = format!("Bearer {token}");
        self.server.send("GET", path, &[("authorization", &bearer)], b"")
    }

    /// Everything in the journal, which must be sound.
    pub fn recorded(&self) -> Vec<Entry> {
        let journal = Journal::open(&self.journal()).unwrap();
        let found = journal.verify().unwrap();
        assert!(found.sound(), "{:?}", found.problems);
        journal.entries(&Selection { with_corrected: true, ..Selection::default() }).unwrap()
    }
}

/// An entry with this id.
pub fn entry(id: &str, at: Timestamp, supersedes: Option<&str>) -> Entry {
    let draft: Draft = serde_json::from_value(serde_json::json!({
        "id": id, "at": at.to_string(), "site": "Fernhollow", "supersedes": supersedes,
        "event": { "kind": "round", "feed_strength_mg_l": 150.5,
                   "plants": [{ "plant": "FH-001", "volume_ml": 12.3 }] },
        "note": format!("of {id}"),
    }))
    .unwrap();
    draft.checked(id, &at.to_string()).unwrap()
}
