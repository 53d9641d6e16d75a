//! The text catalogue: messages in Fluent syntax, one file per language.
