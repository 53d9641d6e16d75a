//! The grower's data in SQLite: one file per table.
