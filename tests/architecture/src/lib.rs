//! Who may depend on whom; the checks live in `tests/`.
