//! From a command's name and JSON to its function.

use hibernacle_contract::{ErrorCode, Failure};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::{Context, calendar, chores, climate, plants, season, setup, today};

macro_rules! router {
    ($($feature:ident :: $name:ident ($request:ty) -> $reply:ty;)*) => {
        /// Runs a command by its name. `null` stands for a request without fields.
        ///
        /// # Errors
        /// [`ErrorCode::UnknownCommand`] for a name that is not on the list, [`ErrorCode::Invalid`] with the path
        /// of the field for a request of the wrong shape, and whatever the command itself refuses.
        pub fn dispatch(context: &Context, name: &str, request: Value) -> Result<Value, Failure> {
            match name {
                $(stringify!($name) => call::<$request, $reply>(context, $feature::$name, request),)*
                _ => Err(Failure::new(ErrorCode::UnknownCommand, format!("there is no command “{name}”"))),
            }
        }
    };
}
hibernacle_contract::commands!(router);

fn call<Request: DeserializeOwned, Reply: Serialize>(
    context: &Context,
    command: impl FnOnce(&Context, Request) -> Result<Reply, Failure>,
    request: Value,
) -> Result<Value, Failure> {
    let request = if request.is_null() { Value::Object(serde_json::Map::new()) } else { request };
    let request: Request = serde_path_to_error::deserialize(request).map_err(|error| {
        let path = error.path().to_string();
        let field = if path == "." { None } else { Some(path) };
        let place = field.as_deref().map_or(String::new(), |field| format!("{field}: "));
        Failure { field, ..Failure::new(ErrorCode::Invalid, format!("{place}{}", error.inner())) }
    })?;
    let reply = command(context, request)?;
    serde_json::to_value(reply).map_err(|error| {
        Failure::new(ErrorCode::Internal, format!("the reply could not be written: {error}"))
    })
}
