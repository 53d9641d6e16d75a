//! A weather service on this machine that says what a test wants.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use hibernacle_service::WeatherServices;

/// A request as it arrived.
#[derive(Debug, Clone)]
pub(crate) struct Asked {
    /// Path with its query.
    pub(crate) path: String,
    head: String,
}

impl Asked {
    /// A header by its name in lower case.
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().skip(1).find_map(|line| {
            let (key, value) = line.split_once(": ")?;
            key.eq_ignore_ascii_case(name).then(|| value.trim())
        })
    }
}

type Answers = dyn Fn(&Asked) -> Vec<u8> + Send;

/// The service; it ends with the test's process.
pub(crate) struct Server {
    pub(crate) base: String,
    answers: Arc<Mutex<Box<Answers>>>,
    asked: Arc<Mutex<Vec<Asked>>>,
}

impl Server {
    pub(crate) fn answering(answers: impl Fn(&Asked) -> Vec<u8> + Send + 'static) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").unwrap();
        let base = format!("http://{}", listener.local_addr().unwrap());
        let answers: Arc<Mutex<Box<Answers>>> = Arc::new(Mutex::new(Box::new(answers)));
        let asked = Arc::new(Mutex::new(Vec::new()));
        let (to_give, to_note) = (Arc::clone(&answers), Arc::clone(&asked));
        std::thread::spawn(move || {
            for mut stream in listener.incoming().flatten() {
                if let Some(request) = request(&mut stream) {
                    to_note.lock().unwrap().push(request.clone());
                    let bytes = to_give.lock().unwrap()(&request);
                    // The asker may have gone away.
                    let _ = stream.write_all(&bytes);
                }
            }
        });
        Self { base, answers, asked }
    }

    /// From now on says something else.
    pub(crate) fn now_answers(&self, answers: impl Fn(&Asked) -> Vec<u8> + Send + 'static) {
        *self.answers.lock().unwrap() = Box::new(answers);
    }

    /// What it was asked since this was looked at last.
    pub(crate) fn asked(&self) -> Vec<Asked> {
        std::mem::take(&mut *self.asked.lock().unwrap())
    }

    /// This server in the place of both services.
    pub(crate) fn services(&self) -> WeatherServices {
        WeatherServices {
            met_norway: self.base.clone(),
            us_nws: self.base.clone(),
            timeout: Duration::from_millis(1500),
        }
    }
}

fn request(stream: &mut TcpStream) -> Option<Asked> {
    let mut bytes = Vec::new();
    let mut piece = [0; 1024];
    while !bytes.windows(4).any(|end| end == b"\r\n\r\n") {
        let length = stream.read(&mut piece).ok()?;
        if length == 0 {
            return None;
        }
        bytes.extend_from_slice(&piece[..length]);
    }
    let head = String::from_utf8(bytes).ok()?;
    let path = head.split(' ').nth(1)?.to_owned();
    Some(Asked { path, head })
}

/// An answer of HTTP/1.1 with more header lines.
pub(crate) fn answer(status: &str, headers: &[&str], body: &str) -> Vec<u8> {
    let more: String = headers.iter().map(|line| format!("{line}\r\n")).collect();
    let length = body.len();
    format!("HTTP/1.1 {status}\r\n{more}Content-Length: {length}\r\nConnection: close\r\n\r\n{body}")
        .into_bytes()
}

/// A document of JSON.
pub(crate) fn json(body: &str) -> Vec<u8> {
    answer("200 OK", &["Content-Type: application/json"], body)
}
