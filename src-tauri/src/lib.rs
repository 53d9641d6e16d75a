//! The shell around the user interface: one window, one command that runs every command of the contract.

mod commands;
#[cfg(debug_assertions)]
mod console;
mod data;

use data::Data;

/// Opens the window and stays until it is closed.
///
/// With `--demo` among the arguments the invented season of Larch Bank is loaded where there is no data yet.
#[cfg_attr(mobile, tauri::mobile_entry_point)]
pub fn run() {
    let with_demo = std::env::args().skip(1).any(|argument| argument == "--demo");
    let builder = tauri::Builder::default();
    #[cfg(desktop)]
    let builder =
        builder.plugin(tauri_plugin_single_instance::init(|app, _arguments, _folder| show_window(app)));
    #[cfg(debug_assertions)]
    let builder = builder.plugin(console::keep_errors());
    let outcome = builder
        .plugin(tauri_plugin_dialog::init())
        .manage(Data::new(with_demo))
        .invoke_handler(tauri::generate_handler![commands::call, commands::save_text])
        .run(tauri::generate_context!());
    if let Err(error) = outcome {
        eprintln!("the window cannot be opened: {error}");
        std::process::exit(1);
    }
}

/// A second start brings the window of the first to the front. A courtesy: the store guards its data itself.
#[cfg(desktop)]
fn show_window(app: &tauri::AppHandle) {
    use tauri::Manager;

    if let Some(window) = app.get_webview_window("main") {
        // A window manager may refuse each of these; the window is there all the same.
        let _ = window.unminimize();
        let _ = window.show();
        let _ = window.set_focus();
    }
}
