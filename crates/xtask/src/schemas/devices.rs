//! The paths for paired devices: pairing, the journal and the folder. They are no calls: they need a
//! token, and what they answer is what a folder holds.

use guardcell::ledger::sync::{EntriesPage, EntriesTaken, PairRequest, Paired, SendEntries};
use guardcell_folder::Contents;
use schemars::SchemaGenerator;
use serde_json::{Value, json};

/// One operation, still without its refusals.
pub(super) struct Operation {
    pub(super) path: &'static str,
    pub(super) method: &'static str,
    pub(super) value: Value,
    pub(super) refusals: &'static [&'static str],
}

/// How a device says who it is.
pub(super) fn security() -> Value {
    json!({ "device": {
        "type": "http",
        "scheme": "bearer",
        "description": "The token of a paired device: `guardcell pair` prints a code, `POST /v1/pair` \
            answers it with a token."
    } })
}

/// The tag of these paths.
pub(super) const TAG: (&str, &str) =
    ("devices", "A folder and its journal for paired devices, where the server offers one");

const READING: &[&str] = &["401", "403", "404", "421", "422", "429", "500", "503"];
const PAIRING: &[&str] =
    &["400", "403", "404", "408", "413", "415", "421", "422", "429", "500", "503"];
const WRITING: &[&str] =
    &["400", "401", "403", "404", "408", "413", "415", "421", "422", "429", "500", "503"];

/// Every operation.
pub(super) fn operations(
    requests: &mut SchemaGenerator,
    responses: &mut SchemaGenerator,
) -> Vec<Operation> {
    vec![pair(requests, responses), send(requests, responses), since(responses), folder(responses)]
}

fn pair(requests: &mut SchemaGenerator, responses: &mut SchemaGenerator) -> Operation {
    let value = json!({
        "operationId": "pair",
        "tags": [TAG.0],
        "summary": "Pair a device by the code of `guardcell pair`",
        "description": "A code works once and for ten minutes. The token is shown this once and is \
            kept by the server as a hash only. Wrong codes are answered slowly, five from one address \
            and 30 from all; then one more each minute, and each ten seconds.",
        "security": [],
        "requestBody": { "required": true, "content": { "application/json": {
            "schema": requests.subschema_for::<PairRequest>(),
            "example": { "code": "34679-ACDEF", "name": "Phone in the greenhouse" }
        } } },
        "responses": { "200": { "description": "The token", "content": { "application/json": {
            "schema": responses.subschema_for::<Paired>()
        } } } }
    });
    Operation { path: "/v1/pair", method: "post", value, refusals: PAIRING }
}

fn send(requests: &mut SchemaGenerator, responses: &mut SchemaGenerator) -> Operation {
    let value = json!({
        "operationId": "send_entries",
        "tags": [TAG.0],
        "summary": "Record entries of a device in the journal",
        "description": "Each entry has an `id` of the device's own, so that it can be sent again: one \
            that is there already, word for word, is `known`. One that is there and says something \
            else is refused; entries are never changed, a correction is an entry that `supersedes` \
            another. Entries are answered one by one: one that is refused holds up no other. What is \
            `accepted` or `known` is on the disk.",
        "security": [{ "device": [] }],
        "requestBody": { "required": true, "content": { "application/json": {
            "schema": requests.subschema_for::<SendEntries>(),
            "example": { "entries": [{
                "id": "phone-0001",
                "recorded": "2026-06-21T04:12:00Z",
                "at": "2026-06-21T05:10:00+01:00",
                "site": "Fernhollow Conservatory",
                "event": { "kind": "wipe", "plants": ["FH-001"] }
            }] }
        } } },
        "responses": { "200": {
            "description": "What became of each entry",
            "content": { "application/json": {
                "schema": responses.subschema_for::<EntriesTaken>()
            } }
        } }
    });
    Operation { path: "/v1/journal/entries", method: "post", value, refusals: WRITING }
}

fn since(responses: &mut SchemaGenerator) -> Operation {
    let value = json!({
        "operationId": "entries_since",
        "tags": [TAG.0],
        "summary": "Entries of the journal that were recorded after a cursor",
        "description": "At most 500 entries, in the order of recording. The cursor is a place in the \
            journal's own sequence; no clock has a part in it. Where it belongs to another life of \
            the journal, such as before a restore, the page begins with the first entry and \
            `restarted` is true.",
        "security": [{ "device": [] }],
        "parameters": [{
            "name": "since", "in": "query", "required": false,
            "description": "The `cursor` of the page before; the first entry when not given",
            "schema": { "type": "string", "maxLength": 64 }
        }],
        "responses": { "200": {
            "description": "A page of the journal",
            "content": { "application/json": {
                "schema": responses.subschema_for::<EntriesPage>()
            } }
        } }
    });
    Operation { path: "/v1/journal/entries", method: "get", value, refusals: READING }
}

fn folder(responses: &mut SchemaGenerator) -> Operation {
    let value = json!({
        "operationId": "folder",
        "tags": [TAG.0],
        "summary": "The folder: site, plants, labels and water",
        "description": "Read from the files of the folder each time; sent only where it has changed \
            (If-None-Match).",
        "security": [{ "device": [] }],
        "responses": {
            "200": {
                "description": "The folder as it is now",
                "headers": { "ETag": { "schema": { "type": "string" } } },
                "content": { "application/json": {
                    "schema": responses.subschema_for::<Contents>()
                } }
            },
            "304": { "description": "The caller has this answer (If-None-Match)" }
        }
    });
    Operation { path: "/v1/folder", method: "get", value, refusals: READING }
}
