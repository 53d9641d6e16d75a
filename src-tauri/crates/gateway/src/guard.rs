//! Who may talk to the gateway.
//!
//! Every page in the grower's browser can send requests to this machine. What keeps them out:
//!
//! - the gateway binds to a loopback address only, so that no other machine reaches it;
//! - the `Host` header must name this gateway: a foreign name that was made to point at 127.0.0.1 (DNS rebinding)
//!   carries its own name there;
//! - a command must come from a page of this gateway (`Origin`, `Sec-Fetch-Site`), as JSON and with the header
//!   [`CALL_HEADER`]: a foreign page can send neither without a preflight, which the gateway never grants.

use std::net::SocketAddr;

use axum::http::{HeaderMap, header};
use hibernacle_contract::{ErrorCode, Failure};

/// Header that every command carries; its value does not matter.
pub const CALL_HEADER: &str = "x-hibernacle";

/// Knows the names under which a gateway may be addressed.
#[derive(Debug, Clone)]
pub(crate) struct Guard {
    hosts: Vec<String>,
}

impl Guard {
    pub(crate) fn new(address: SocketAddr) -> Self {
        let port = address.port();
        let mut hosts: Vec<String> =
            ["127.0.0.1", "localhost", "[::1]"].iter().map(|name| format!("{name}:{port}")).collect();
        hosts.push(address.to_string());
        if port == 80 {
            hosts.extend(["127.0.0.1", "localhost", "[::1]"].map(ToOwned::to_owned));
        }
        Self { hosts }
    }

    /// Checks that a request means this gateway.
    pub(crate) fn check_host(&self, headers: &HeaderMap) -> Result<(), Failure> {
        let mut named = headers.get_all(header::HOST).iter();
        let host = named.next().and_then(|host| host.to_str().ok());
        match (host, named.next()) {
            (Some(host), None) if self.is_ours(host) => Ok(()),
            _ => Err(refused("This address is not the one that Hibernacle answers to.")),
        }
    }

    /// Checks that a command comes from a page of this gateway or from a program on this machine.
    pub(crate) fn check_call(&self, headers: &HeaderMap) -> Result<(), Failure> {
        let text = |name: &str| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
        if let Some(origin) = text("origin")
            && !origin.strip_prefix("http://").is_some_and(|host| self.is_ours(host))
        {
            return Err(refused("Another site may not send commands."));
        }
        if text("sec-fetch-site").is_some_and(|site| site != "same-origin" && site != "none") {
            return Err(refused("Another site may not send commands."));
        }
        if !headers.contains_key(CALL_HEADER) {
            return Err(refused(&format!("A command must carry the header `{CALL_HEADER}`.")));
        }
        let kind = text("content-type").and_then(|kind| kind.split(';').next()).map(str::trim);
        if !kind.is_some_and(|kind| kind.eq_ignore_ascii_case("application/json")) {
            return Err(refused("A command must be sent as `content-type: application/json`."));
        }
        Ok(())
    }

    fn is_ours(&self, host: &str) -> bool {
        self.hosts.iter().any(|ours| ours.eq_ignore_ascii_case(host))
    }
}

fn refused(message: &str) -> Failure {
    Failure::new(ErrorCode::Refused, message)
}
