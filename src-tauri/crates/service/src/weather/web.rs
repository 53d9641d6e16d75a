//! Asking a service over HTTP, as its terms want it: named, seldom, and only for what has changed.

use std::io::Read;
use std::time::{Duration, UNIX_EPOCH};

use chrono::TimeDelta;
use ureq::http::{HeaderMap, Response, StatusCode, Uri};
use ureq::{Agent, Body};

use super::source::SourceError;

/// Most bytes of an answer, unpacked: a forecast of ten days has about 50 kB, one in words three times that.
const LIMIT_BYTES: u64 = 4 * 1024 * 1024;
/// Most redirects that are followed.
const MOST_REDIRECTS: u32 = 3;

/// A way to ask one service.
pub(super) struct Web {
    agent: Agent,
    timeout: Duration,
}

/// What a service answers.
pub(super) enum WebAnswer {
    /// A text.
    Text { text: String, last_modified: Option<String>, fresh_for: Option<TimeDelta> },
    /// What was got earlier still stands.
    Unchanged { fresh_for: Option<TimeDelta> },
}

impl Web {
    /// * `base` — where the service is; one that is asked by HTTPS is never asked otherwise
    /// * `contact` — how the service may reach the grower
    /// * `timeout` — for the whole of one answer
    pub(super) fn new(base: &str, contact: Option<&str>, timeout: Duration) -> Self {
        let agent = Agent::config_builder()
            .user_agent(user_agent(contact))
            .accept("application/geo+json, application/json;q=0.9")
            .timeout_global(Some(timeout))
            .max_redirects(MOST_REDIRECTS)
            .max_redirects_will_error(true)
            .http_status_as_error(false)
            .https_only(base.starts_with("https:"))
            .build()
            .new_agent();
        Self { agent, timeout }
    }

    /// Asks for an address.
    ///
    /// * `since` — the date of change that came with the text at hand
    ///
    /// # Errors
    /// [`SourceError`] for every answer but a text or “unchanged”.
    pub(super) fn get(&self, address: &str, since: Option<&str>) -> Result<WebAnswer, SourceError> {
        let mut request = self.agent.get(address);
        if let Some(since) = since {
            request = request.header("If-Modified-Since", since);
        }
        let response = request.call().map_err(|error| self.failed(address, error))?;
        let fresh_for = fresh_for(response.headers());
        match response.status() {
            StatusCode::NOT_MODIFIED if since.is_some() => Ok(WebAnswer::Unchanged { fresh_for }),
            // 203 is MET Norway's word for a product that is about to be replaced: the text is good.
            StatusCode::OK | StatusCode::NON_AUTHORITATIVE_INFORMATION => {
                let last_modified = text_of(response.headers(), "last-modified").map(str::to_owned);
                let text = self.text(address, response)?;
                Ok(WebAnswer::Text { text, last_modified, fresh_for })
            }
            status => Err(refusal(host(address), status, response.headers())),
        }
    }

    /// The failure of a service that points to a foreign address.
    #[expect(clippy::unused_self, reason = "it is said of this service")]
    pub(super) fn elsewhere(&self, address: &str) -> SourceError {
        SourceError::Elsewhere { host: host(address) }
    }

    fn text(&self, address: &str, response: Response<Body>) -> Result<String, SourceError> {
        let mut bytes = Vec::new();
        let mut reader =
            response.into_body().into_with_config().limit(u64::MAX).reader().take(LIMIT_BYTES + 1);
        reader.read_to_end(&mut bytes).map_err(|error| self.failed(address, ureq::Error::from(error)))?;
        if bytes.len() as u64 > LIMIT_BYTES {
            return Err(SourceError::TooLong { host: host(address), limit_mb: LIMIT_BYTES / 1024 / 1024 });
        }
        String::from_utf8(bytes)
            .map_err(|_| SourceError::Broken { host: host(address), what: "it is not UTF-8".to_owned() })
    }

    fn failed(&self, address: &str, error: ureq::Error) -> SourceError {
        let host = host(address);
        match error {
            ureq::Error::Timeout(_) => SourceError::Slow { host, seconds: self.timeout.as_secs().max(1) },
            ureq::Error::TooManyRedirects
            | ureq::Error::RedirectFailed
            | ureq::Error::RequireHttpsOnly(_) => SourceError::Elsewhere { host },
            ureq::Error::Protocol(what) => SourceError::Broken { host, what: what.to_string() },
            ureq::Error::Io(error) if is_broken_off(&error) => {
                SourceError::Broken { host, what: error.to_string() }
            }
            other => SourceError::Unreachable { host, what: other.to_string() },
        }
    }
}

fn is_broken_off(error: &std::io::Error) -> bool {
    use std::io::ErrorKind;
    matches!(error.kind(), ErrorKind::UnexpectedEof | ErrorKind::InvalidData | ErrorKind::InvalidInput)
}

/// The name that this program gives itself.
fn user_agent(contact: Option<&str>) -> String {
    let name = concat!("Hibernacle/", env!("CARGO_PKG_VERSION"));
    contact.map_or_else(|| name.to_owned(), |contact| format!("{name} {contact}"))
}

fn host(address: &str) -> String {
    address.parse::<Uri>().ok().and_then(|uri| uri.host().map(str::to_owned)).unwrap_or_default()
}

fn refusal(host: String, status: StatusCode, headers: &HeaderMap) -> SourceError {
    let code = status.as_u16();
    match code {
        404 | 410 | 422 => SourceError::NotThere { host },
        401 | 403 => SourceError::Barred { host, status: code },
        429 | 500 | 502 | 503 | 504 => {
            SourceError::Busy { host, status: code, retry_after: retry_after(headers) }
        }
        _ => SourceError::Status { host, status: code },
    }
}

fn text_of<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    headers.get(name)?.to_str().ok()
}

/// Seconds since 1970 of a date as HTTP writes it (RFC 9110, 5.6.7).
fn instant_s(text: &str) -> Option<i64> {
    let time = httpdate::parse_http_date(text.trim()).ok()?;
    i64::try_from(time.duration_since(UNIX_EPOCH).ok()?.as_secs()).ok()
}

/// Seconds from the answer's own date to another of its dates: right whatever the clock here shows.
fn from_its_date(headers: &HeaderMap, text: &str) -> Option<TimeDelta> {
    let date = instant_s(text_of(headers, "date")?)?;
    TimeDelta::try_seconds(instant_s(text)? - date)
}

/// For how long an answer is fresh (RFC 9111, 4.2.1): its `max-age`, else until it expires.
fn fresh_for(headers: &HeaderMap) -> Option<TimeDelta> {
    let max_age = text_of(headers, "cache-control")
        .into_iter()
        .flat_map(|text| text.split(','))
        .find_map(|part| part.trim().strip_prefix("max-age=")?.parse().ok())
        .and_then(TimeDelta::try_seconds);
    max_age.or_else(|| from_its_date(headers, text_of(headers, "expires")?))
}

/// How long to wait (RFC 9110, 10.2.3): seconds or a date.
fn retry_after(headers: &HeaderMap) -> Option<TimeDelta> {
    let text = text_of(headers, "retry-after")?;
    match text.trim().parse() {
        Ok(seconds) => TimeDelta::try_seconds(seconds),
        Err(_) => from_its_date(headers, text),
    }
}
