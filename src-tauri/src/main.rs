//! The desktop window.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    hibernacle_shell::run();
}
