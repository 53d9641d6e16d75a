//! Prepares the shell: its commands and what the window may ask of them.

use std::path::Path;

fn main() {
    // A build of the user interface must lead to a new build of the shell that contains it.
    println!("cargo:rerun-if-changed=../ui/dist");
    if std::env::var_os("CARGO_FEATURE_CUSTOM_PROTOCOL").is_some()
        && !Path::new("../ui/dist/index.html").is_file()
    {
        println!(
            "cargo:warning=the user interface is not built: run `cargo xtask run`, or `npm ci` and `npm run build` in ui"
        );
    }
    let commands = tauri_build::AppManifest::new().commands(&["call", "save_text"]);
    let attributes = tauri_build::Attributes::new().app_manifest(commands);
    if let Err(error) = tauri_build::try_build(attributes) {
        println!("cargo:warning={error:#}");
        std::process::exit(1);
    }
}
