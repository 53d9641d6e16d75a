//! Test crate; the checks live in `tests/`.
