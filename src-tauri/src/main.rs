//! The desktop window.

fn main() {}
