//! The header of the C library, from its source.

use std::error::Error;
use std::path::Path;

/// The header, from the root of the repository.
pub const PATH: &str = "crates/capi/guardcell.h";

/// The text of the header.
///
/// # Errors
/// If the source or its settings cannot be read.
pub fn text(root: &Path) -> Result<String, Box<dyn Error>> {
    let folder = root.join("crates/capi");
    let bindings = cbindgen::Builder::new()
        .with_config(cbindgen::Config::from_file(folder.join("cbindgen.toml"))?)
        .with_src(folder.join("src/border.rs"))
        .generate()?;
    let mut text = Vec::new();
    bindings.write(&mut text);
    Ok(String::from_utf8(text)?)
}
