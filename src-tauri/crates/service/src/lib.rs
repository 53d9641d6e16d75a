//! What a person can do: one module per feature, one function per command.
