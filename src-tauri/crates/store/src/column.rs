//! Values of a column that are more than a number or a text.

use rusqlite::ToSql;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSqlOutput, ValueRef};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// A value without fields by its word in JSON, stored as that bare word (`greenhouse`).
pub(crate) struct Word<T>(pub(crate) T);

/// A structured value as JSON text.
pub(crate) struct Json<T>(pub(crate) T);

impl<T: Serialize> ToSql for Word<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        match serde_json::to_value(&self.0) {
            Ok(Value::String(word)) => Ok(ToSqlOutput::from(word)),
            Ok(other) => {
                Err(rusqlite::Error::ToSqlConversionFailure(format!("{other} is not a single word").into()))
            }
            Err(error) => Err(rusqlite::Error::ToSqlConversionFailure(Box::new(error))),
        }
    }
}

impl<T: DeserializeOwned> FromSql for Word<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let word = Value::String(value.as_str()?.to_owned());
        serde_json::from_value(word).map(Self).map_err(FromSqlError::other)
    }
}

impl<T: Serialize> ToSql for Json<T> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        serde_json::to_string(&self.0)
            .map(ToSqlOutput::from)
            .map_err(|error| rusqlite::Error::ToSqlConversionFailure(Box::new(error)))
    }
}

impl<T: DeserializeOwned> FromSql for Json<T> {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        serde_json::from_str(value.as_str()?).map(Self).map_err(FromSqlError::other)
    }
}
