//! From a command's name and JSON to its function.

use hibernacle_contract::{ErrorCode, Failure};
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::{
    Context, calendar, chores, climate, night, plants, readings, season, setup, shelter, today, weather,
    winter,
};

macro_rules! router {
    ($($feature:ident :: $name:ident ($request:ty) -> $reply:ty;)*) => {
        /// Runs a command by its name. `null` stands for a request without fields.
        ///
        /// # Errors
        /// [`ErrorCode::UnknownCommand`] for a name that is not on the list, [`ErrorCode::Invalid`] with the path
        /// of the field for a request of the wrong shape, and whatever the command itself refuses.
        pub fn dispatch(context: &Context, name: &str, request: Value) -> Result<Value, Failure> {
            match name {
                $(stringify!($name) => {
                    let reply: $reply = call::<$request, $reply>(context, $feature::$name, request)?;
                    serde_json::to_value(reply).map_err(unwritten)
                })*
                _ => Err(unknown(name)),
            }
        }

        /// Runs a command by its name, as [`dispatch`] does, and gives the reply as JSON text: the plan of a
        /// large garden is ready in half the time.
        ///
        /// # Errors
        /// As [`dispatch`].
        pub fn dispatch_text(context: &Context, name: &str, request: Value) -> Result<String, Failure> {
            match name {
                $(stringify!($name) => {
                    let reply: $reply = call::<$request, $reply>(context, $feature::$name, request)?;
                    serde_json::to_string(&reply).map_err(unwritten)
                })*
                _ => Err(unknown(name)),
            }
        }
    };
}
hibernacle_contract::commands!(router);

fn call<Request: DeserializeOwned, Reply>(
    context: &Context,
    command: impl FnOnce(&Context, Request) -> Result<Reply, Failure>,
    request: Value,
) -> Result<Reply, Failure> {
    let request = if request.is_null() { Value::Object(serde_json::Map::new()) } else { request };
    let request: Request = serde_path_to_error::deserialize(request).map_err(|error| {
        let path = error.path().to_string();
        let field = if path == "." { None } else { Some(path) };
        let place = field.as_deref().map_or(String::new(), |field| format!("{field}: "));
        Failure { field, ..Failure::new(ErrorCode::Invalid, format!("{place}{}", error.inner())) }
    })?;
    command(context, request)
}

fn unknown(name: &str) -> Failure {
    Failure::new(ErrorCode::UnknownCommand, format!("there is no command “{name}”"))
}

fn unwritten(error: serde_json::Error) -> Failure {
    Failure::new(ErrorCode::Internal, format!("the reply could not be written: {error}"))
}
