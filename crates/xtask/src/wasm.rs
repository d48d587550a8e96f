//! The engine: `crates/wasm` as WebAssembly with its JavaScript, ready for a page, Node or a server.

use std::error::Error;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

type Outcome<T> = Result<T, Box<dyn Error>>;

/// The most that a phone downloads of the module, in bytes, brotli at its highest level.
const MOST: usize = 1_200_000;
const MODULE: &str = "engine_bg.wasm";
/// The profile of the workspace that it is compiled with.
const PROFILE: &str = "engine";

/// Builds the engine into a folder and prints its sizes; false where it is larger than allowed.
pub(crate) fn build(root: &Path, output: Option<PathBuf>) -> Outcome<bool> {
    let root = root.canonicalize()?;
    let target = root.join(std::env::var_os("CARGO_TARGET_DIR").unwrap_or("target".into()));
    let output = output.unwrap_or_else(|| target.join("engine"));
    same_versions(&root)?;
    let mut cargo = Command::new(root.join("tests/wasm/cargo.sh"));
    // As a library for JavaScript alone: one for Rust beside it would keep the linker from optimising
    // the whole.
    let library = ["-p", "guardcell-wasm", "--lib", "--crate-type", "cdylib"];
    ran(cargo.arg("rustc").args(library).args(["--profile", PROFILE]))?;
    let module = target.join("wasm/target/wasm32-unknown-unknown").join(PROFILE);
    let tools = target.join("wasm/tools");
    // Outside the folder of the workspace cargo would apply the settings of this process to it.
    let mut cargo = Command::new(std::env::var_os("CARGO").unwrap_or("cargo".into()));
    ran(cargo
        .args(["build", "--release", "--locked", "--quiet", "--target-dir"])
        .arg(&tools)
        .current_dir(root.join("crates/wasm/bindgen")))?;
    std::fs::create_dir_all(&output)?;
    ran(Command::new(tools.join("release/guardcell-bindgen"))
        .arg(module.join("guardcell_wasm.wasm"))
        .arg(&output))?;
    let bytes = std::fs::read(output.join(MODULE))?;
    without_paths(&bytes, &root)?;
    let packed = brotli_size(&bytes)?;
    println!(
        "{}: {} bytes, gzip {}, brotli {packed} (at most {MOST})",
        output.join(MODULE).display(),
        bytes.len(),
        gzip_size(&bytes)?,
    );
    Ok(packed <= MOST)
}

fn ran(command: &mut Command) -> Outcome<()> {
    let status =
        command.status().map_err(|e| format!("{}: {e}", command.get_program().display()))?;
    if status.success() {
        return Ok(());
    }
    Err(format!("{} ended with {status}", command.get_program().display()).into())
}

/// The module and what writes its glue must be of one version of wasm-bindgen.
fn same_versions(root: &Path) -> Outcome<()> {
    let version = |lock: &str| -> Outcome<String> {
        let table: toml::Table = std::fs::read_to_string(root.join(lock))?.parse()?;
        let of = |p: &toml::Value| {
            (p.get("name")?.as_str()? == "wasm-bindgen-shared")
                .then(|| p.get("version")?.as_str().map(str::to_owned))?
        };
        let packages = table.get("package").and_then(toml::Value::as_array);
        let found = packages.into_iter().flatten().find_map(of);
        found.ok_or_else(|| format!("{lock} has no wasm-bindgen-shared").into())
    };
    let (module, glue) = (version("Cargo.lock")?, version("crates/wasm/bindgen/Cargo.lock")?);
    if module == glue {
        return Ok(());
    }
    Err(format!("Cargo.lock has wasm-bindgen {module}, crates/wasm/bindgen/Cargo.lock {glue}")
        .into())
}

/// No path of this machine may be in what others download.
fn without_paths(bytes: &[u8], root: &Path) -> Outcome<()> {
    let home = std::env::var("HOME").unwrap_or_default();
    for path in [root.display().to_string(), format!("{home}/.cargo"), format!("{home}/.rustup")] {
        if let Some(at) = bytes.windows(path.len()).position(|part| part == path.as_bytes()) {
            let part = bytes.get(at..bytes.len().min(at + 100)).unwrap_or_default();
            let part = String::from_utf8_lossy(part);
            return Err(format!("the module has a path of this machine in it: {part}").into());
        }
    }
    Ok(())
}

fn brotli_size(bytes: &[u8]) -> Outcome<usize> {
    let mut out = Vec::new();
    let params = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 24,
        size_hint: bytes.len(),
        ..Default::default()
    };
    brotli::BrotliCompress(&mut &*bytes, &mut out, &params)?;
    Ok(out.len())
}

fn gzip_size(bytes: &[u8]) -> Outcome<usize> {
    let mut gzip = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    gzip.write_all(bytes)?;
    Ok(gzip.finish()?.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_of_the_machine_is_found() {
        let root = Path::new("/some/where");
        assert!(without_paths(b"panicked at crates/x.rs", root).is_ok());
        assert!(without_paths(b"panicked at /some/where/x.rs", root).is_err());
    }

    #[test]
    fn module_and_glue_are_pinned_to_one_version() {
        same_versions(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")).unwrap();
    }
}
