//! The files of the page, as a server sends them and as a static site has them.

use crate::cached::fnv;
use crate::engine::Engine;
use bytes::Bytes;

const SCRIPT: &str = "text/javascript; charset=utf-8";
const CSS: &str = "text/css; charset=utf-8";
const PNG: &str = "image/png";

/// A file of the page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageFile {
    /// Its name; all are in one folder.
    pub name: &'static str,
    /// Its media type.
    pub media: &'static str,
    /// What is in it.
    pub body: Bytes,
}

/// A file of the folder `page/` of this crate.
macro_rules! part {
    ($name:literal, $media:expr) => {
        ($name, $media, include_bytes!(concat!("../page/", $name)))
    };
}

type Part = (&'static str, &'static str, &'static [u8]);

/// What is sent as it is.
static PARTS: &[Part] = &[
    part!("page.css", CSS),
    part!("parts.css", CSS),
    part!("print.css", CSS),
    part!("air.js", SCRIPT),
    part!("areas.js", SCRIPT),
    part!("ask.js", SCRIPT),
    part!("choose.js", SCRIPT),
    part!("copies.js", SCRIPT),
    part!("device.js", SCRIPT),
    part!("drop.js", SCRIPT),
    part!("earlier.js", SCRIPT),
    part!("fault.js", SCRIPT),
    part!("feed.js", SCRIPT),
    part!("fields.js", SCRIPT),
    part!("given.js", SCRIPT),
    part!("history.js", SCRIPT),
    part!("journal.js", SCRIPT),
    part!("keep.js", SCRIPT),
    part!("load.js", SCRIPT),
    part!("make.js", SCRIPT),
    part!("names.js", SCRIPT),
    part!("page.js", SCRIPT),
    part!("pairing.js", SCRIPT),
    part!("photos.js", SCRIPT),
    part!("picture.js", SCRIPT),
    part!("place.js", SCRIPT),
    part!("plants.js", SCRIPT),
    part!("question.js", SCRIPT),
    part!("record.js", SCRIPT),
    part!("share.js", SCRIPT),
    part!("sheet.js", SCRIPT),
    part!("store.js", SCRIPT),
    part!("sync.js", SCRIPT),
    part!("today.js", SCRIPT),
    part!("verdicts.js", SCRIPT),
    part!("views.js", SCRIPT),
    part!("wizard.js", SCRIPT),
    part!("words.js", SCRIPT),
    part!("engine-worker.js", SCRIPT),
    part!("icon.svg", "image/svg+xml"),
    part!("icon-192.png", PNG),
    part!("icon-512.png", PNG),
    part!("manifest.webmanifest", "application/manifest+json"),
    part!("example.json", "application/json"),
];

const INDEX: &str = include_str!("../page/index.html");
const WORKER: &str = include_str!("../page/worker.js");

/// What the two files hold that is filled in.
const ROOT: &str = "<html lang=\"en-GB\">";
const CHARSET: &str = "<meta charset=\"utf-8\">";
const API: &str = " <a href=\"openapi.json\">The&nbsp;API</a>";
const VERSION: &str = "VERSION";
const LIST: &str = "[\"PARTS\"]";

/// Only what the server of the page sends may run or be loaded. An engine needs one word more; it
/// allows no text to become a program, unlike `unsafe-eval`.
pub(crate) fn policy(engine: bool) -> String {
    let engine = if engine { " 'wasm-unsafe-eval'" } else { "" };
    format!(
        "default-src 'none'; script-src 'self'{engine}; style-src 'self'; img-src 'self'; \
         connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; \
         form-action 'none'"
    )
}

/// The page as a static site: any server of files can send it, and it needs no other.
///
/// ```
/// use guardcell_server::{Engine, static_page};
/// let engine = Engine::new("export {};", &b"\0asm\x01\0\0\0"[..])?;
/// let files = static_page(&engine);
/// assert!(files.iter().any(|f| f.name == "index.html"));
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn static_page(engine: &Engine) -> Vec<PageFile> {
    files(Some(engine), true)
}

/// The files of the page, with an engine where there is one; `alone` for a site without a server that
/// calculates.
pub(crate) fn files(engine: Option<&Engine>, alone: bool) -> Vec<PageFile> {
    let of = |name, media, body| PageFile { name, media, body };
    let mut files = vec![of("index.html", "text/html; charset=utf-8", index(engine, alone).into())];
    let parts = PARTS.iter().filter(|(name, ..)| engine.is_some() || *name != "engine-worker.js");
    files.extend(parts.map(|(name, media, body)| of(name, media, Bytes::from_static(body))));
    if let Some(engine) = engine {
        files.push(of(Engine::SCRIPT, SCRIPT, engine.script()));
        files.push(of(Engine::MODULE, "application/wasm", engine.module()));
    }
    let worker = worker(&files, engine.is_none());
    files.push(of("worker.js", SCRIPT, worker.into()));
    files
}

fn index(engine: Option<&Engine>, alone: bool) -> String {
    let mut html = INDEX.to_owned();
    if engine.is_some() {
        let alone = if alone { " data-alone=\"yes\"" } else { "" };
        let root = format!("{} data-engine=\"yes\"{alone}>", ROOT.trim_end_matches('>'));
        html = html.replace(ROOT, &root);
    }
    if alone {
        // A server of files sends no policy of its own.
        let meta = format!(
            "{CHARSET}\n<meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n\
             <meta name=\"referrer\" content=\"no-referrer\">",
            policy(engine.is_some())
        );
        html = html.replace(CHARSET, &meta).replace(API, "");
    }
    html
}

/// The worker that keeps the page, with the files that it keeps and a version that follows from them.
fn worker(files: &[PageFile], asks_server: bool) -> String {
    let names = files.iter().map(|f| if f.name == "index.html" { "./" } else { f.name });
    let names: Vec<&str> = names.chain(asks_server.then_some("v1/catalogue")).collect();
    let version =
        files.iter().fold(0_u64, |version, file| fnv(&file.body) ^ version.rotate_left(5));
    // Names of files have no quotation marks.
    let list = format!("[\"{}\"]", names.join("\", \""));
    WORKER.replace(VERSION, &format!("{version:016x}")).replace(LIST, &list)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(files: &[PageFile], name: &str) -> String {
        let file = files.iter().find(|f| f.name == name).unwrap();
        String::from_utf8(file.body.to_vec()).unwrap()
    }

    fn engine(script: &'static str) -> Engine {
        Engine::new(script, &b"\0asm\x01\0\0\0"[..]).unwrap()
    }

    #[test]
    fn a_page_without_an_engine_names_none() {
        let files = files(None, false);
        assert!(!text(&files, "index.html").contains("data-engine"));
        let worker = text(&files, "worker.js");
        assert!(!worker.contains("engine") && worker.contains("\"v1/catalogue\""));
        assert!(!policy(false).contains("wasm"));
    }

    #[test]
    fn a_static_page_has_its_policy_and_asks_no_server() {
        let files = static_page(&engine("export {};"));
        let html = text(&files, "index.html");
        for part in ["data-engine=\"yes\" data-alone=\"yes\"", "'wasm-unsafe-eval'", "no-referrer"]
        {
            assert!(html.contains(part), "{part}");
        }
        assert!(!html.contains("openapi"));
        let worker = text(&files, "worker.js");
        assert!(worker.contains("\"engine_bg.wasm\"") && !worker.contains("v1/"));
        assert!(!worker.contains("VERSION") && !worker.contains("\"PARTS\""));
    }

    #[test]
    fn the_version_follows_from_the_files() {
        let worker = |script| text(&static_page(&engine(script)), "worker.js");
        assert_eq!(worker("export {};"), worker("export {};"));
        assert_ne!(worker("export {};"), worker("export { a };"));
    }
}
