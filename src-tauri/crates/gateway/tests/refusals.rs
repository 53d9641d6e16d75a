//! What the gateway answers and what it refuses, over a real connection.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::io::{Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpStream};
use std::sync::Arc;

use hibernacle_gateway::{Asset, FolderUi, Gateway, GatewayError, Running, UiAssets};
use hibernacle_service::{Context, SystemClock};
use serde_json::Value;
use tempfile::TempDir;

/// A gateway on a free port with a small user interface.
struct House {
    gateway: Running,
    _ui: TempDir,
}

impl House {
    fn new() -> Self {
        let ui = tempfile::tempdir().unwrap();
        std::fs::create_dir(ui.path().join("assets")).unwrap();
        std::fs::write(ui.path().join("index.html"), "<p>page").unwrap();
        std::fs::write(ui.path().join("assets/main-1a2b.js"), "let a;").unwrap();
        let gateway = bind(FolderUi::new(ui.path())).spawn();
        Self { gateway, _ui: ui }
    }

    fn host(&self) -> String {
        self.gateway.address().to_string()
    }

    /// Sends a request line with headers and a body, and reads the whole answer.
    fn send(&self, line: &str, headers: &[(&str, &str)], body: &str) -> Answer {
        let mut connection = TcpStream::connect(self.gateway.address()).unwrap();
        let mut text = format!("{line} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
        for (name, value) in headers {
            text.push_str(&format!("{name}: {value}\r\n"));
        }
        connection.write_all(format!("{text}\r\n").as_bytes()).unwrap();
        // A refusal may come before the whole body is sent.
        let _ = connection.write_all(body.as_bytes());
        let mut answer = Vec::new();
        let _ = connection.read_to_end(&mut answer);
        Answer(String::from_utf8(answer).unwrap())
    }

    fn get(&self, path: &str) -> Answer {
        self.send(&format!("GET {path}"), &[("Host", &self.host())], "")
    }

    /// Sends a command as the user interface does, with some headers in another form or (empty) left out.
    fn call(&self, name: &str, changed: &[(&str, &str)], body: &str) -> Answer {
        let host = self.host();
        let origin = format!("http://{host}");
        let usual = [
            ("Host", host.as_str()),
            ("Origin", &origin),
            ("Sec-Fetch-Site", "same-origin"),
            ("Content-Type", "application/json"),
            ("X-Hibernacle", "1"),
        ];
        let headers: Vec<(&str, &str)> = usual
            .iter()
            .map(|(name, value)| {
                let other = changed.iter().find(|(changed, _)| changed == name);
                (*name, other.map_or(*value, |(_, other)| *other))
            })
            .filter(|(_, value)| !value.is_empty())
            .collect();
        self.send(&format!("POST /api/call/{name}"), &headers, body)
    }
}

struct Answer(String);

impl Answer {
    fn status(&self) -> u16 {
        self.0.split(' ').nth(1).unwrap().parse().unwrap()
    }

    fn header(&self, name: &str) -> Option<&str> {
        let head = self.0.split("\r\n\r\n").next().unwrap();
        head.lines().find_map(|line| line.strip_prefix(&format!("{name}: ")))
    }

    fn body(&self) -> &str {
        self.0.split_once("\r\n\r\n").unwrap().1
    }

    fn code(&self) -> String {
        let failure: Value = serde_json::from_str(self.body()).unwrap();
        failure["code"].as_str().unwrap().to_owned()
    }
}

fn context() -> Arc<Context> {
    Arc::new(Context::in_memory(SystemClock).unwrap())
}

fn bind(assets: impl UiAssets + 'static) -> Gateway {
    Gateway::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, 0)), context(), assets).unwrap()
}

#[test]
fn a_command_answers_as_the_service_does() {
    let house = House::new();
    let answer = house.call("plant_list", &[], "{\"site_id\":null}");
    let asked: Value = serde_json::json!({ "site_id": null });
    match hibernacle_service::dispatch(&context(), "plant_list", asked) {
        Ok(reply) => {
            assert_eq!(answer.status(), 200);
            assert_eq!(serde_json::from_str::<Value>(answer.body()).unwrap(), reply);
        }
        Err(failure) => assert_eq!(answer.body(), serde_json::to_value(failure).unwrap().to_string()),
    }
    assert_eq!(answer.header("cache-control"), Some("no-store"));
    assert_eq!(answer.header("content-type"), Some("application/json"));
}

#[test]
fn a_command_line_tool_without_origin_may_call() {
    let house = House::new();
    let answer = house.call("no_such", &[("Origin", ""), ("Sec-Fetch-Site", "")], "{}");
    assert_eq!((answer.status(), answer.code().as_str()), (404, "unknown_command"));
}

#[test]
fn failures_keep_their_code_and_get_a_status() {
    let house = House::new();
    let unknown = house.call("no_such", &[], "{}");
    assert_eq!((unknown.status(), unknown.code().as_str()), (404, "unknown_command"));
    let shape = house.call("chore_done", &[], "{\"chore\":{\"site_id\":7}}");
    assert_eq!((shape.status(), shape.code().as_str()), (422, "invalid"));
    assert!(shape.body().contains("chore.site_id"), "{}", shape.body());
    let broken = house.call("today", &[], "{");
    assert_eq!((broken.status(), broken.code().as_str()), (400, "invalid"));
}

#[test]
fn a_foreign_host_name_is_refused_everywhere() {
    let house = House::new();
    let port = house.gateway.address().port();
    for host in
        ["rebound.example", &format!("rebound.example:{port}"), "127.0.0.1", "127.0.0.1:1", "localhost"]
    {
        assert_eq!(house.call("today", &[("Host", host)], "{}").status(), 421, "{host}");
        assert_eq!(house.send("GET /", &[("Host", host)], "").status(), 421, "{host}");
    }
    assert_eq!(house.send("GET /", &[], "").status(), 421, "no host at all");
    let twice = [("Host", house.host()), ("Host", "rebound.example".to_owned())];
    let twice: Vec<(&str, &str)> = twice.iter().map(|(name, host)| (*name, host.as_str())).collect();
    assert!(house.send("GET /", &twice, "").status() >= 400, "two hosts");
    let named = format!("localhost:{port}");
    assert_eq!(house.send("GET /", &[("Host", &named)], "").status(), 200);
}

#[test]
fn a_foreign_page_is_refused() {
    let house = House::new();
    let port = house.gateway.address().port();
    let https = format!("https://127.0.0.1:{port}");
    let neighbour = format!("http://127.0.0.1:{}", port ^ 1);
    for origin in ["http://garden.example", "null", &https, &neighbour] {
        let answer = house.call("today", &[("Origin", origin)], "{}");
        assert_eq!((answer.status(), answer.code().as_str()), (403, "refused"), "{origin}");
    }
    for site in ["cross-site", "same-site"] {
        assert_eq!(house.call("today", &[("Sec-Fetch-Site", site)], "{}").status(), 403, "{site}");
    }
}

#[test]
fn what_a_form_of_a_foreign_page_can_send_is_refused() {
    let house = House::new();
    assert_eq!(house.call("today", &[("X-Hibernacle", "")], "{}").status(), 403);
    for kind in [
        "",
        "text/plain",
        "application/x-www-form-urlencoded",
        "multipart/form-data",
        "text/plain; application/json",
    ] {
        let answer = house.call("today", &[("Content-Type", kind)], "{}");
        assert_eq!((answer.status(), answer.code().as_str()), (403, "refused"), "{kind}");
    }
}

#[test]
fn a_preflight_is_never_granted() {
    let house = House::new();
    let headers = [
        ("Host", house.host()),
        ("Origin", "http://garden.example".to_owned()),
        ("Access-Control-Request-Method", "POST".to_owned()),
        ("Access-Control-Request-Headers", "x-hibernacle,content-type".to_owned()),
    ];
    let headers: Vec<(&str, &str)> = headers.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let answer = house.send("OPTIONS /api/call/today", &headers, "");
    assert_eq!(answer.status(), 405);
    assert_eq!(answer.header("access-control-allow-origin"), None);
}

#[test]
fn large_requests_are_for_files_only() {
    let house = House::new();
    let body = format!("{{\"padding\":\"{}\"}}", "x".repeat(2 << 20));
    let answer = house.call("today", &[], &body);
    assert_eq!((answer.status(), answer.code().as_str()), (413, "refused"));
    let file = house.call("climate_preview", &[], &body);
    assert_ne!(file.status(), 413);
}

#[test]
fn other_ways_to_the_commands_lead_nowhere() {
    let house = House::new();
    assert_eq!(house.get("/api/call/today").status(), 405);
    assert_eq!(house.get("/api/other").status(), 404);
    assert_eq!(house.get("/api/other").code(), "not_found");
    assert_eq!(house.send("DELETE /", &[("Host", &house.host())], "").status(), 405);
}

#[test]
fn pages_come_with_their_types_and_lifetimes() {
    let house = House::new();
    let page = house.get("/");
    assert_eq!((page.status(), page.body()), (200, "<p>page"));
    assert_eq!(page.header("content-type"), Some("text/html; charset=utf-8"));
    assert_eq!(page.header("cache-control"), Some("no-cache"));
    assert_eq!(house.get("/season/plan?year=2026").body(), "<p>page");
    assert_eq!(house.get("/missing.js").status(), 404);
    assert_eq!(house.get("/../Cargo.toml").status(), 404);
    assert_eq!(house.get("/%2e%2e/Cargo.toml").status(), 404);

    let script = house.get("/assets/main-1a2b.js");
    assert_eq!(script.body(), "let a;");
    assert_eq!(script.header("cache-control"), Some("public, max-age=31536000, immutable"));
    let tag = script.header("etag").unwrap();
    let again =
        house.send("GET /assets/main-1a2b.js", &[("Host", &house.host()), ("If-None-Match", tag)], "");
    assert_eq!((again.status(), again.body()), (304, ""));
}

#[test]
fn every_answer_keeps_the_browser_strict() {
    let house = House::new();
    let refused = house.send("GET /", &[("Host", "rebound.example")], "");
    for answer in [house.get("/"), house.get("/api/other"), house.call("no_such", &[], "{}"), refused] {
        let policy = answer.header("content-security-policy").unwrap();
        assert!(
            policy.starts_with("default-src 'self';") && policy.contains("frame-ancestors 'none'"),
            "{policy}"
        );
        assert!(!policy.contains("unsafe"), "{policy}");
        assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
        assert_eq!(answer.header("referrer-policy"), Some("no-referrer"));
    }
}

#[test]
fn an_address_open_to_other_machines_is_refused() {
    struct Nothing;
    impl UiAssets for Nothing {
        fn get(&self, _path: &str) -> Option<Asset> {
            None
        }
    }
    for address in ["0.0.0.0:0", "[::]:0", "192.0.2.1:0"] {
        let refused = Gateway::bind(address.parse().unwrap(), context(), Nothing).err().unwrap();
        assert!(matches!(refused, GatewayError::NotLoopback(_)), "{refused}");
    }
    let first = bind(Nothing);
    let taken = Gateway::bind(first.address(), context(), Nothing).err().unwrap();
    assert!(taken.to_string().contains("choose another port"), "{taken}");
}

#[test]
fn a_stopped_gateway_lets_go_of_its_port_even_with_an_idle_visitor() {
    let house = House::new();
    let address = house.gateway.address();
    let _idle = TcpStream::connect(address).unwrap();
    let start = std::time::Instant::now();
    drop(house);
    assert!(start.elapsed().as_secs() < 12);
    assert!(TcpStream::connect(address).is_err());
}
