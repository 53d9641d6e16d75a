//! Console errors of the page, kept in debug builds so that the tests of the window can ask for them: the driver
//! has no other way to errors that came before its first question.

use tauri::Runtime;
use tauri::plugin::{Builder, TauriPlugin};

const KEEP_ERRORS: &str = r"
    window.__consoleErrors = [];
    const keep = (...words) => window.__consoleErrors.push(words.map(String).join(' '));
    const print = console.error.bind(console);
    console.error = (...words) => { keep(...words); print(...words); };
    window.addEventListener('error', (event) => keep(event.message, event.filename, event.lineno));
    window.addEventListener('unhandledrejection', (event) => keep(event.reason));
    window.addEventListener('securitypolicyviolation', (event) => keep(event.violatedDirective, event.blockedURI));
";

/// Keeps errors in `window.__consoleErrors`.
pub(crate) fn keep_errors<R: Runtime>() -> TauriPlugin<R> {
    Builder::new("console").js_init_script(KEEP_ERRORS).build()
}
