//! What the page asks for over HTTP, and nothing else: it is served on the loopback address, to a browser that asked for
//! that address by name, and nothing is read from the disk for an answer.

use std::net::Ipv4Addr;
use std::sync::Arc;
use std::time::Duration;

use oxhttp::Server;
use oxhttp::model::header::{CONTENT_TYPE, HOST, ORIGIN};
use oxhttp::model::{Body, Method, Request, Response, StatusCode};

use super::page::page;
use super::state::Live;
use crate::exit::Problem;

/// The first port that is tried where none is given, and how many after it.
const PORTS: std::ops::Range<u16> = 7480..7580;
/// How long a page waits for news before it asks again.
const PATIENCE: Duration = Duration::from_secs(20);
/// How long a connection may say nothing.
const SILENCE: Duration = Duration::from_secs(60);
/// How many connections there may be at once: a browser opens six.
const CONNECTIONS: usize = 48;

/// Where the page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Address(u16);

impl Address {
    /// The address for a browser.
    pub fn url(self) -> String {
        format!("http://{}:{}/", Ipv4Addr::LOCALHOST, self.0)
    }

    /// Whether a browser asked for this very machine by a name that no other machine can have: a page from elsewhere whose
    /// name was made to lead here says its own.
    fn is_named_by(self, host: &str) -> bool {
        let names = ["127.0.0.1", "localhost"];
        let mut all = names.iter().map(|name| format!("{name}:{}", self.0));
        all.any(|own| own.eq_ignore_ascii_case(host))
    }
}

/// Begins to serve at a port, or at the first free one.
///
/// # Errors
/// When the port is taken.
pub fn serve(port: Option<u16>, live: &Arc<Live>) -> Result<Address, Problem> {
    let tried = port.map_or(PORTS, |port| port..port.saturating_add(1));
    let mut refused = String::new();
    for port in tried {
        let address = Address(port);
        let (page, policy) = page();
        let live = Arc::clone(live);
        let server = Server::new(move |request| {
            let answer = answer(request, address, &page, &live);
            guarded(answer, &policy)
        })
        .bind((Ipv4Addr::LOCALHOST, port))
        .with_global_timeout(SILENCE)
        .with_max_concurrent_connections(CONNECTIONS);
        match server.spawn() {
            Ok(_) => return Ok(address),
            Err(error) => refused = error.to_string(),
        }
    }
    let what = port.map_or_else(
        || format!("the ports from {} to {}", PORTS.start, PORTS.end - 1),
        |port| format!("port {port}"),
    );
    let message = format!("nothing can be served at {what}: {refused}");
    Err(Problem::usage(message).fix("give another one with --port, or end what is using it"))
}

/// Status, media type and content.
type Answer = (StatusCode, &'static str, Vec<u8>);

fn plain(status: StatusCode, words: &str) -> Answer {
    (
        status,
        "text/plain; charset=utf-8",
        format!("{words}\n").into_bytes(),
    )
}

fn answer(request: &Request<Body>, address: Address, page: &str, live: &Live) -> Answer {
    let header = |name| {
        let value = request.headers().get(name)?;
        Some(value.to_str().unwrap_or_default())
    };
    if !header(HOST).is_some_and(|host| address.is_named_by(host)) {
        let words = format!("This page is at {} and under no other name.", address.url());
        return plain(StatusCode::FORBIDDEN, &words);
    }
    let own = |origin: &str| {
        let host = origin.strip_prefix("http://");
        host.is_some_and(|host| address.is_named_by(host))
    };
    if !header(ORIGIN).is_none_or(own) {
        return plain(
            StatusCode::FORBIDDEN,
            "Pages from elsewhere get nothing here.",
        );
    }
    if request.method() != Method::GET {
        return plain(
            StatusCode::METHOD_NOT_ALLOWED,
            "Nothing can be changed here; it is only read.",
        );
    }
    match (request.uri().path(), request.uri().query()) {
        ("/", None) => (
            StatusCode::OK,
            "text/html; charset=utf-8",
            page.as_bytes().to_vec(),
        ),
        ("/state", Some(query)) => {
            let Some(known) = query.strip_prefix("after=").and_then(|n| n.parse().ok()) else {
                return plain(
                    StatusCode::BAD_REQUEST,
                    "after= takes the number of a state.",
                );
            };
            match live.after(known, PATIENCE) {
                Some(state) => (StatusCode::OK, "application/json", state.into_bytes()),
                None => (StatusCode::NO_CONTENT, "application/json", Vec::new()),
            }
        }
        _ => plain(StatusCode::NOT_FOUND, "There is nothing of this name."),
    }
}

fn guarded((status, media, content): Answer, policy: &str) -> Response<Body> {
    let built = Response::builder()
        .status(status)
        .header(CONTENT_TYPE, media)
        .header("Cache-Control", "no-store")
        .header("Content-Security-Policy", policy)
        .header("Cross-Origin-Resource-Policy", "same-origin")
        .header("Referrer-Policy", "no-referrer")
        .header("X-Content-Type-Options", "nosniff")
        .body(Body::from(content));
    // All of these are plain words.
    built.unwrap_or_else(|_| Response::new(Body::empty()))
}
