//! Takes the engine of the page into the program, where `GUARDCELL_ENGINE` names its folder.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    println!("cargo:rerun-if-env-changed=GUARDCELL_ENGINE");
    let folder = std::env::var_os("GUARDCELL_ENGINE").filter(|name| !name.is_empty());
    match written(folder.map(PathBuf::from).as_deref()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            println!("cargo:error={fault}");
            ExitCode::FAILURE
        }
    }
}

fn written(folder: Option<&Path>) -> Result<(), String> {
    let value = match folder {
        None => "None".to_owned(),
        Some(folder) => {
            let part = |name: &str| {
                let path = folder.join(name).canonicalize();
                let path = path.map_err(|e| {
                    format!("GUARDCELL_ENGINE: {name}: {e}; build it with `cargo xtask wasm`")
                })?;
                println!("cargo:rerun-if-changed={}", path.display());
                Ok::<_, String>(format!("include_bytes!({:?})", path.display().to_string()))
            };
            format!("Some(({}, {}))", part("engine.js")?, part("engine_bg.wasm")?)
        }
    };
    let out = std::env::var_os("OUT_DIR").ok_or("cargo gives no OUT_DIR")?;
    let text =
        format!("/// Script and module.\nconst BUILT_IN: Option<(&[u8], &[u8])> = {value};\n");
    std::fs::write(Path::new(&out).join("engine.rs"), text).map_err(|e| e.to_string())
}
