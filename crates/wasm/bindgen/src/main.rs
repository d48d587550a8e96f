//! `guardcell-bindgen MODULE.wasm FOLDER`: writes `engine.js`, `engine.d.ts` and `engine_bg.wasm`.

use std::error::Error;
use std::process::ExitCode;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(e) => {
            eprintln!("error: {e:#}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [module, folder] = args.as_slice() else {
        return Err("usage: guardcell-bindgen MODULE.wasm FOLDER".into());
    };
    wasm_bindgen_cli_support::Bindgen::new()
        .input_path(module)
        .out_name("engine")
        .typescript(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        // Else `init()` would not find the module beside the script.
        .omit_default_module_path(false)
        .web(true)?
        .generate(folder)?;
    Ok(())
}
