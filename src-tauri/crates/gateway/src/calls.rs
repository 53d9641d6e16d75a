//! Running commands.

use std::sync::Arc;
use std::time::Duration;

use axum::body::{Body, Bytes, to_bytes};
use axum::http::{HeaderValue, Response, StatusCode, header};
use hibernacle_contract::{ErrorCode, Failure};
use hibernacle_service::Context;

/// Commands that carry a file. Daily records of a century are some 20 MB, and JSON escapes line ends; the
/// readings of a season are some 5 MB for a sensor, and base64 adds a third.
const CARRY_FILES: &[&str] = &["climate_preview", "climate_import", "readings_preview", "readings_import"];

/// Largest request that carries a file, in bytes.
const FILE_LIMIT: usize = 64 << 20;

/// Largest other request, in bytes.
const LIMIT: usize = 1 << 20;

/// Longest time in which a request must arrive, and longest time for which an answer is waited for.
const ARRIVAL: Duration = Duration::from_secs(60);
const ANSWER: Duration = Duration::from_secs(120);

/// Reads a request, runs its command where it cannot hold up others, and answers.
pub(crate) async fn answer(context: Arc<Context>, name: String, body: Body) -> Response<Body> {
    match run(context, name, body).await {
        Ok(reply) => json(StatusCode::OK, reply),
        Err((status, failure)) => fail(status, &failure),
    }
}

type Refusal = (StatusCode, Failure);

async fn run(context: Arc<Context>, name: String, body: Body) -> Result<String, Refusal> {
    let limit = if CARRY_FILES.contains(&name.as_str()) { FILE_LIMIT } else { LIMIT };
    let text = tokio::time::timeout(ARRIVAL, read(body, limit)).await.map_err(|_| {
        (
            StatusCode::REQUEST_TIMEOUT,
            Failure::new(ErrorCode::Refused, "The request took too long to arrive."),
        )
    })??;
    let request = serde_json::from_slice(&text).map_err(|error| {
        (
            StatusCode::BAD_REQUEST,
            Failure::new(ErrorCode::Invalid, format!("The request is not JSON: {error}.")),
        )
    })?;
    let task =
        tokio::task::spawn_blocking(move || hibernacle_service::dispatch_text(&context, &name, request));
    match tokio::time::timeout(ANSWER, task).await {
        Ok(Ok(outcome)) => outcome.map_err(|failure| (status_of(failure.code), failure)),
        Ok(Err(_)) => Err((
            StatusCode::INTERNAL_SERVER_ERROR,
            Failure::new(ErrorCode::Internal, "The program failed at this; nothing was changed."),
        )),
        Err(_) => Err((
            StatusCode::GATEWAY_TIMEOUT,
            Failure::new(
                ErrorCode::Internal,
                "The answer takes too long; look again in a while whether it was done.",
            ),
        )),
    }
}

async fn read(body: Body, limit: usize) -> Result<Bytes, Refusal> {
    to_bytes(body, limit).await.map_err(|_| {
        (
            StatusCode::PAYLOAD_TOO_LARGE,
            Failure::new(ErrorCode::Refused, format!("The request is larger than {} MB.", limit >> 20)),
        )
    })
}

/// Status of a failure for those that only look at the status.
pub(crate) fn status_of(code: ErrorCode) -> StatusCode {
    match code {
        ErrorCode::Invalid | ErrorCode::Unreadable => StatusCode::UNPROCESSABLE_ENTITY,
        ErrorCode::NotFound | ErrorCode::UnknownCommand => StatusCode::NOT_FOUND,
        ErrorCode::Conflict | ErrorCode::TooNew => StatusCode::CONFLICT,
        ErrorCode::Refused => StatusCode::FORBIDDEN,
        ErrorCode::Storage | ErrorCode::Internal => StatusCode::INTERNAL_SERVER_ERROR,
    }
}

/// A failure as a response.
pub(crate) fn fail(status: StatusCode, failure: &Failure) -> Response<Body> {
    json(status, serde_json::to_string(failure).unwrap_or_default())
}

fn json(status: StatusCode, text: String) -> Response<Body> {
    let mut response = Response::new(Body::from(text));
    *response.status_mut() = status;
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/json"));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    response
}
