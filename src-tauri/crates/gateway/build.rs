//! With the user interface inside, a new build of it leads to a new build of the gateway.

use std::path::Path;

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    if std::env::var_os("CARGO_FEATURE_EMBEDDED_UI").is_some() {
        println!("cargo:rerun-if-changed=../../../ui/dist");
        if !Path::new("../../../ui/dist/index.html").is_file() {
            println!("cargo:warning=the user interface is not built: run `npm ci` and `npm run build` in ui");
        }
    }
}
