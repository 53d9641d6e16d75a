//! Serving the files of the user interface.

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Method, Response, StatusCode, header};

use crate::assets::UiAssets;

/// What a page may load and do: only what this gateway serves.
const CONTENT_POLICY: &str = "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'none'; \
    form-action 'none'; frame-ancestors 'none'";

/// Headers of every response.
const SAFETY: &[(&str, &str)] = &[
    ("content-security-policy", CONTENT_POLICY),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("permissions-policy", "camera=(), geolocation=(), microphone=(), usb=()"),
];

/// Adds the headers that keep a browser strict.
pub(crate) fn secure(mut response: Response<Body>) -> Response<Body> {
    for (name, value) in SAFETY {
        response.headers_mut().insert(*name, HeaderValue::from_static(value));
    }
    response
}

/// The file at a path; for a path that names no file, the page, which finds its own way to the screen.
pub(crate) fn page(
    assets: &dyn UiAssets,
    method: &Method,
    path: &str,
    headers: &HeaderMap,
) -> Response<Body> {
    if method != Method::GET && method != Method::HEAD {
        let mut response = status(StatusCode::METHOD_NOT_ALLOWED);
        response.headers_mut().insert(header::ALLOW, HeaderValue::from_static("GET, HEAD"));
        return response;
    }
    let path = path.trim_start_matches('/');
    let names_a_file = path.rsplit('/').next().is_some_and(|last| last.contains('.'));
    let found = assets.get(path).or_else(|| if names_a_file { None } else { assets.get("index.html") });
    let Some(asset) = found else { return status(StatusCode::NOT_FOUND) };

    // The build puts a hash of the content into the names below `assets/`: such a file never changes.
    let cache = if path.starts_with("assets/") { "public, max-age=31536000, immutable" } else { "no-cache" };
    let known = headers.get(header::IF_NONE_MATCH).and_then(|tags| tags.to_str().ok());
    let unchanged = known.is_some_and(|tags| tags.split(',').any(|tag| tag.trim() == asset.etag));
    let mut response = if unchanged {
        status(StatusCode::NOT_MODIFIED)
    } else {
        Response::new(Body::from(match asset.bytes {
            std::borrow::Cow::Borrowed(bytes) => axum::body::Bytes::from_static(bytes),
            std::borrow::Cow::Owned(bytes) => axum::body::Bytes::from(bytes),
        }))
    };
    for (name, value) in [(header::CONTENT_TYPE, &asset.content_type), (header::ETAG, &asset.etag)] {
        if let Ok(value) = HeaderValue::from_str(value) {
            response.headers_mut().insert(name, value);
        }
    }
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static(cache));
    response
}

fn status(status: StatusCode) -> Response<Body> {
    let mut response = Response::new(Body::empty());
    *response.status_mut() = status;
    response
}
