//! The live view: every save is shown, broken ones beside the last good state, nothing grows, and nobody else gets in.

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use jigless_tests::fixtures::{copy_tree, fixture};
use jigless_tests::program::jigless;
use jigless_tests::readers::read_with_node;
use serde_json::Value;

/// More than a debug build needs on a busy machine.
const SOON: Duration = Duration::from_secs(60);

struct Live {
    child: Child,
    url: String,
}

impl Live {
    fn start(plan: &Path) -> Self {
        let mut command = jigless(plan);
        command
            .arg("live")
            .arg(plan)
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit());
        let mut child = command.spawn().expect("the program starts");
        let out = BufReader::new(child.stdout.take().expect("its output"));
        let mut lines = out.lines().map_while(Result::ok);
        let url = lines
            .find(|line| line.starts_with("http://"))
            .expect("an address");
        // What it prints later is read, so that it never waits for us.
        std::thread::spawn(move || lines.for_each(drop));
        Self { child, url }
    }

    fn host(&self) -> &str {
        self.url.trim_start_matches("http://").trim_end_matches('/')
    }

    /// Sends a request as it is, and gives the status and the content of the answer.
    fn send(&self, request: &str) -> (u16, String) {
        let mut stream = TcpStream::connect(self.host()).expect("a connection");
        stream.set_read_timeout(Some(SOON)).expect("a limit");
        stream.write_all(request.as_bytes()).expect("a request");
        let mut answer = String::new();
        stream.read_to_string(&mut answer).expect("an answer");
        let status = answer.split(' ').nth(1).and_then(|code| code.parse().ok());
        let content = answer
            .split_once("\r\n\r\n")
            .map_or("", |(_, content)| content);
        (status.expect("a status"), content.to_owned())
    }

    fn get(&self, path: &str, host: &str) -> (u16, String) {
        self.send(&format!(
            "GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n\r\n"
        ))
    }

    /// States after one, until one is as wanted.
    fn until(&self, after: &mut u64, wanted: impl Fn(&Value) -> bool) -> Value {
        let end = Instant::now() + SOON;
        loop {
            let (status, content) = self.get(&format!("/state?after={after}"), self.host());
            if status == 200 {
                let state: Value = serde_json::from_str(&content).expect("a state");
                *after = state["number"].as_u64().expect("its number");
                if wanted(&state) {
                    return state;
                }
            }
            assert!(Instant::now() < end, "the state that was wanted never came");
        }
    }

    /// Memory in kilobytes that is taken; none where the system does not tell.
    fn memory(&self) -> Option<u64> {
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status.lines().find(|line| line.starts_with("VmRSS:"))?;
        line.split_whitespace().nth(1)?.parse().ok()
    }
}

impl Drop for Live {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Every second save is broken. `JIGLESS_SAVES=500` asks for more.
#[test]
fn every_save_is_shown_and_nothing_grows() {
    let saves = std::env::var("JIGLESS_SAVES").ok();
    let saves: u64 = saves.and_then(|text| text.parse().ok()).unwrap_or(30);
    let place = tempfile::tempdir().expect("a temporary folder");
    copy_tree(&fixture("glaze-cabinet"), place.path());
    let file = place.path().join("plan.yaml");
    let text = fs::read_to_string(&file).expect("the plan");
    let live = Live::start(place.path());
    let mut known = 0;
    live.until(&mut known, |state| {
        state["good"] == true && state["view"].is_object()
    });
    let mut before = None;
    let mut slowest = Duration::ZERO;
    for save in 1..=saves {
        let title = format!("Save {save}");
        let mut saved = text.replace("title: Glaze cabinet", &format!("title: {title}"));
        let start = Instant::now();
        if save % 2 == 0 {
            // A key that no plan has, another one each time.
            let _ = write!(saved, "\nbroken-{save}: 1\n");
            fs::write(&file, saved).expect("a saved plan");
            let wanted = format!("broken-{save}");
            let state = live.until(&mut known, |state| {
                state["good"] == false && state["findings"].to_string().contains(&wanted)
            });
            assert_eq!(state["findings"][0]["severity"], "error");
            assert!(state["findings"][0]["place"]["line"].is_u64(), "{state}");
            // Who comes anew gets the last good state, and that it is old.
            if save % 10 == 0 {
                let mut none = 0;
                let state = live.until(&mut none, |_| true);
                assert_eq!(
                    (&state["good"], &state["title"]),
                    (
                        &Value::Bool(false),
                        &Value::from(format!("Save {}", save - 1))
                    )
                );
                assert!(state["view"].is_object());
            }
        } else {
            fs::write(&file, saved).expect("a saved plan");
            let state = live.until(&mut known, |state| {
                state["good"] == true && state["title"] == title.as_str()
            });
            assert!(state["view"]["pieces"].is_array());
            assert_eq!(state["findings"].as_array().map(Vec::len), Some(0));
        }
        slowest = slowest.max(start.elapsed());
        if save == saves / 3 {
            before = live.memory();
        }
    }
    let after = live.memory();
    println!(
        "{saves} saves, the slowest shown after {slowest:?}; memory in kB: {before:?}, then {after:?}"
    );
    if let (Some(before), Some(after)) = (before, after) {
        // What two thirds of the saves add: less than 16 MB and an eighth, as an allocator comes to rest.
        assert!(
            after < before + before / 8 + 16_000,
            "{before} kB, then {after} kB"
        );
    }
}

#[test]
fn nobody_else_gets_anything() {
    let place = tempfile::tempdir().expect("a temporary folder");
    copy_tree(&fixture("features/steps"), place.path());
    fs::write(place.path().join("secret.txt"), "secret").expect("a file");
    let live = Live::start(place.path());
    let own = live.host().to_owned();
    let port = own.rsplit(':').next().expect("a port").to_owned();
    assert_eq!(live.get("/", &own).0, 200);
    assert_eq!(live.get("/", &format!("localhost:{port}")).0, 200);
    for host in [
        "plans.example",
        &format!("plans.example:{port}"),
        "127.0.0.1",
        "127.0.0.1:1",
        &format!("127.0.0.1.plans.example:{port}"),
        "",
    ] {
        let (status, content) = live.get("/state?after=0", host);
        assert!(matches!(status, 400 | 403), "{host}: {status}");
        assert!(!content.contains("view"), "{host}");
    }
    let foreign = format!(
        "GET /state?after=0 HTTP/1.1\r\nHost: {own}\r\nOrigin: http://plans.example\r\nConnection: close\r\n\r\n"
    );
    assert_eq!(live.send(&foreign).0, 403);
    let without = "GET / HTTP/1.1\r\nConnection: close\r\n\r\n";
    assert!(matches!(live.send(without).0, 400 | 403));
    for path in [
        "/secret.txt",
        "/plan.yaml",
        "/../secret.txt",
        "/%2e%2e/secret.txt",
        "/state/../secret.txt",
        "//etc/passwd",
        "/..%2f..%2fetc%2fpasswd",
    ] {
        let (status, content) = live.get(path, &own);
        assert!(matches!(status, 400 | 404), "{path}: {status}");
        assert!(!content.contains("secret"), "{path}");
    }
    for method in ["POST", "PUT", "DELETE", "OPTIONS"] {
        let request = format!(
            "{method} / HTTP/1.1\r\nHost: {own}\r\nContent-Length: 0\r\nConnection: close\r\n\r\n"
        );
        assert_eq!(live.send(&request).0, 405, "{method}");
    }
    assert_eq!(live.get("/state?after=x", &own).0, 400);
    // Only this machine: the port is not open at other addresses.
    let others =
        TcpStream::connect_timeout(&format!("[::1]:{port}").parse().expect("an address"), SOON);
    assert!(others.is_err(), "it listens elsewhere, too");
}

#[test]
#[cfg_attr(
    not(has_driven_browser),
    ignore = "needs chromium, node and the Node packages: tests/run"
)]
fn the_page_follows_without_losing_the_camera() {
    let place = tempfile::tempdir().expect("a temporary folder");
    copy_tree(&fixture("features/steps"), place.path());
    let live = Live::start(place.path());
    let file = place.path().join("plan.yaml");
    let reports = read_with_node(
        "browse.cjs",
        &[OsStr::new("live"), OsStr::new(&live.url), file.as_os_str()],
    );
    let report = &reports[0];
    for key in ["complaints", "violations"] {
        assert_eq!(
            report[key].as_array().map(Vec::len),
            Some(0),
            "{:#}",
            report[key]
        );
    }
    assert!(
        report["too_wide"].as_i64().is_some_and(|by| by <= 0),
        "{report:#}"
    );
    let seen = report["seen"].as_object().expect("what was seen");
    assert!(
        seen.len() >= 7 && seen.values().all(|worked| *worked == true),
        "{seen:#?}"
    );
}
