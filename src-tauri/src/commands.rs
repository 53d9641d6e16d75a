//! What the window may ask of the shell.

use std::path::Path;

use hibernacle_contract::{ErrorCode, Failure};
use serde_json::Value;
use tauri::ipc::Response;
use tauri::{AppHandle, Manager};
use tauri_plugin_dialog::DialogExt;

use crate::data::Data;

/// Runs a command of the contract where it does not hold up the window.
#[tauri::command]
pub(crate) async fn call(app: AppHandle, name: String, request: Value) -> Result<Response, Failure> {
    aside(move || {
        let context = app.state::<Data>().open()?;
        hibernacle_service::dispatch_text(&context, &name, request)
    })
    .await
    .map(Response::new)
}

/// Asks where to put a text and writes it there; false where the grower changed their mind.
#[tauri::command]
pub(crate) async fn save_text(app: AppHandle, file_name: String, text: String) -> Result<bool, Failure> {
    aside(move || {
        let Some(place) = app.dialog().file().set_file_name(file_name).blocking_save_file() else {
            return Ok(false);
        };
        let path = place.into_path().map_err(|error| cannot_save(&error.to_string()))?;
        write_whole(&path, &text)
            .map_err(|error| cannot_save(&error.to_string()).at(path.display().to_string(), None))?;
        Ok(true)
    })
    .await
}

async fn aside<Reply: Send + 'static>(
    work: impl FnOnce() -> Result<Reply, Failure> + Send + 'static,
) -> Result<Reply, Failure> {
    tauri::async_runtime::spawn_blocking(work).await.unwrap_or_else(|_| {
        Err(Failure::new(ErrorCode::Internal, "The program failed at this; nothing was changed."))
    })
}

/// Writes beside the file and then takes its place, so that a full disk leaves the old file as it was.
fn write_whole(path: &Path, text: &str) -> std::io::Result<()> {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".part");
    let beside = path.with_file_name(name);
    std::fs::write(&beside, text).and_then(|()| std::fs::rename(&beside, path)).inspect_err(|_| {
        // What is left of the attempt is of no use; the first error says more than a second would.
        let _ = std::fs::remove_file(&beside);
    })
}

fn cannot_save(reason: &str) -> Failure {
    Failure::new(ErrorCode::Storage, format!("The file cannot be written: {reason}."))
}
