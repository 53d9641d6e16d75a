//! Automation of the project: run, test, codegen, tidy, bench.

fn main() {}
