//! Running a program once: a text in, a text out, within a time and a size.

use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::{Duration, Instant};

use crate::disk::in_words;

/// How much of what a program says on standard error is shown.
const SAID: u64 = 4_000;

/// How a program is run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Program {
    /// The program and its arguments.
    pub command: Vec<String>,
    /// The folder that it runs in, from which its arguments are read.
    pub folder: PathBuf,
    /// How long one run may take.
    pub time: Duration,
    /// How many bytes it may answer.
    pub bytes: u64,
}

/// Why a run gave no answer.
#[derive(Debug)]
pub enum Failure {
    /// There is no such program.
    Missing,
    /// Anything else, in plain words.
    Other(String),
}

impl Program {
    /// The program as it is started: a name with a `/` is looked for from the folder, any other where the system looks.
    fn first(&self) -> PathBuf {
        let first = self.command.first().map_or("", String::as_str);
        if first.contains('/') {
            self.folder.join(first)
        } else {
            PathBuf::from(first)
        }
    }

    /// The files that the command names: with the program's own words they make it what it is.
    pub fn files(&self) -> impl Iterator<Item = PathBuf> {
        let words = self.command.iter().enumerate();
        words.filter_map(|(index, word)| {
            let path = if index == 0 {
                self.first()
            } else {
                self.folder.join(word)
            };
            path.is_file().then_some(path)
        })
    }

    /// Runs it with a text on standard input, and gives what it wrote to standard output.
    ///
    /// # Errors
    /// When it cannot be started, fails, takes too long or answers too much.
    pub fn run(&self, input: Vec<u8>) -> Result<Vec<u8>, Failure> {
        let other = |error: io::Error| Failure::Other(in_words(&error));
        let mut running = Running(self.start().map_err(|error| match error.kind() {
            io::ErrorKind::NotFound if folder_or_here(&self.folder).is_dir() => Failure::Missing,
            _ => other(error),
        })?);
        let child = &mut running.0;
        let end = Instant::now() + self.time;
        let (Some(mut stdin), Some(stdout), Some(stderr)) =
            (child.stdin.take(), child.stdout.take(), child.stderr.take())
        else {
            return Err(Failure::Other("it has no pipes".to_owned()));
        };
        // A program may answer before it has read everything, or read nothing at all.
        thread::spawn(move || drop(stdin.write_all(&input)));
        let answer = in_background(stdout, self.bytes + 1);
        let said = in_background(stderr, SAID);
        let out = match answer.recv_timeout(end.saturating_duration_since(Instant::now())) {
            Ok(read) => read.map_err(other)?,
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {
                return Err(self.too_long());
            }
        };
        if out.len() as u64 > self.bytes {
            let limit = self.bytes;
            return Err(Failure::Other(format!(
                "it answers more than {limit} bytes"
            )));
        }
        loop {
            if let Some(status) = child.try_wait().map_err(other)? {
                if status.success() {
                    return Ok(out);
                }
                let left = Duration::from_millis(100);
                let said = said.recv_timeout(left).ok().and_then(Result::ok);
                let said = said.unwrap_or_default();
                let said = String::from_utf8_lossy(&said);
                return Err(Failure::Other(format!(
                    "it ended with {status}\n{}",
                    said.trim()
                )));
            }
            if Instant::now() >= end {
                return Err(self.too_long());
            }
            thread::sleep(Duration::from_millis(1));
        }
    }

    fn too_long(&self) -> Failure {
        Failure::Other(format!(
            "it takes more than {} seconds",
            self.time.as_secs()
        ))
    }

    fn start(&self) -> io::Result<Child> {
        let mut command = Command::new(self.first());
        command
            .args(self.command.iter().skip(1))
            .current_dir(folder_or_here(&self.folder))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        #[cfg(unix)]
        {
            // A group of its own, so that what it starts ends with it.
            use std::os::unix::process::CommandExt;
            command.process_group(0);
        }
        command.spawn()
    }
}

fn folder_or_here(folder: &Path) -> &Path {
    if folder.as_os_str().is_empty() {
        Path::new(".")
    } else {
        folder
    }
}

/// A program that does not outlive the wish for its answer.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        if matches!(self.0.try_wait(), Ok(Some(_))) {
            return;
        }
        #[cfg(unix)]
        if let Some(group) = i32::try_from(self.0.id())
            .ok()
            .and_then(rustix::process::Pid::from_raw)
        {
            let _ = rustix::process::kill_process_group(group, rustix::process::Signal::KILL);
        }
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Reads up to so many bytes in a thread of its own, and lets go by what comes after, so that no program stops at it.
fn in_background(
    mut from: impl Read + Send + 'static,
    limit: u64,
) -> mpsc::Receiver<io::Result<Vec<u8>>> {
    let (give, take) = mpsc::channel();
    thread::spawn(move || {
        let mut bytes = Vec::new();
        let read = from.by_ref().take(limit).read_to_end(&mut bytes);
        // Nobody waits any more where the time was up.
        let _ = give.send(read.map(|_| bytes));
        let _ = io::copy(&mut from, &mut io::sink());
    });
    take
}
