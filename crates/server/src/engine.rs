//! The engine of the page: the calls as WebAssembly, so that the page calculates on the device.

use bytes::Bytes;
use guardcell::{Code, Error};

include!(concat!(env!("OUT_DIR"), "/engine.rs"));

/// An engine: the two files that `cargo xtask wasm` writes.
#[derive(Clone, PartialEq, Eq)]
pub struct Engine {
    script: Bytes,
    module: Bytes,
}

impl Engine {
    /// The file of the script.
    pub const SCRIPT: &'static str = "engine.js";
    /// The file of the module.
    pub const MODULE: &'static str = "engine_bg.wasm";

    /// The engine that was compiled in: that of the folder named by `GUARDCELL_ENGINE` when this crate
    /// was compiled.
    ///
    /// ```
    /// let config = guardcell_server::Config::default();
    /// assert_eq!(config.engine, guardcell_server::Engine::built_in());
    /// ```
    #[must_use]
    pub fn built_in() -> Option<Self> {
        BUILT_IN.map(|(script, module)| Self {
            script: Bytes::from_static(script),
            module: Bytes::from_static(module),
        })
    }

    /// An engine from its two files.
    ///
    /// # Errors
    /// [`Code::MalformedFile`] for a module that is not WebAssembly, or a script that is not text.
    ///
    /// ```
    /// use guardcell_server::Engine;
    /// assert!(Engine::new("export default 1;", "not a module").is_err());
    /// ```
    pub fn new(script: impl Into<Bytes>, module: impl Into<Bytes>) -> Result<Self, Error> {
        let (script, module) = (script.into(), module.into());
        let wrong = |file: &str, what: &str| {
            Error::new(Code::MalformedFile, what, "build it with `cargo xtask wasm`").in_file(file)
        };
        // Magic number and version of the binary format (WebAssembly Core 2.0, section 5.5.16).
        if !module.starts_with(b"\0asm\x01\0\0\0") {
            return Err(wrong(Self::MODULE, "this is not a WebAssembly module"));
        }
        if script.is_empty() || std::str::from_utf8(&script).is_err() {
            return Err(wrong(Self::SCRIPT, "this is not a script"));
        }
        Ok(Self { script, module })
    }

    /// The script.
    pub(crate) fn script(&self) -> Bytes {
        self.script.clone()
    }

    /// The module.
    pub(crate) fn module(&self) -> Bytes {
        self.module.clone()
    }
}

impl std::fmt::Debug for Engine {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Engine").field("bytes", &self.module.len()).finish_non_exhaustive()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_an_engine_is_refused() {
        let module: &[u8] = b"\0asm\x01\0\0\0";
        assert!(Engine::new("export {};", module).is_ok());
        assert_eq!(
            Engine::new("export {};", &module[..4]).unwrap_err().code(),
            Code::MalformedFile
        );
        let error = Engine::new(&b"\xff"[..], module).unwrap_err();
        assert_eq!(error.place().unwrap().file.as_deref(), Some("engine.js"));
    }
}
