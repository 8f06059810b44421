//! Outside formats: programs of other people that make files of a plan.
//!
//! A program is named in the user's configuration or in a profile, never in a plan: a plan that somebody downloads must
//! not run anything. It is run once to say what it is, and once for each plan; it reads one JSON text and writes one, and
//! Jigless alone touches the output folder.

pub mod message;
mod options;
mod process;
mod request;

use std::collections::BTreeSet;

use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use jigless_core::diag::Findings;
use jigless_core::export::{
    AnyExporter, Artifact, Configured, ExportError, ExportInput, OptionFault, OptionSpec, Setting,
    Stage,
};
use serde_json::{Map, Value};

use crate::digest::sha256;
use crate::exit::{Exit, Problem};
use crate::paths::{check_relative, folded};
use message::{DescribeAnswer, DescribeRequest, ExportAnswer, FileJson, PROTOCOL, ProtocolOnly};
use process::Failure;
pub use process::Program;

/// A program that said what it is.
#[derive(Debug)]
pub struct Outside {
    id: &'static str,
    program: Program,
    described: DescribeAnswer,
    media_type: &'static str,
    summary: &'static str,
}

impl Outside {
    /// Runs a program to learn what it is. `named_in` is the file that names it. It lives as long as the run, as the
    /// exporters that are built in do.
    ///
    /// # Errors
    /// When it cannot be started or does not speak our protocol.
    pub fn describe(id: &str, program: Program, named_in: &str) -> Result<&'static Self, Problem> {
        let refuse = |reason: &str| {
            Problem::new(
                Exit::Faulty,
                format!("the outside format `{id}` of {named_in} cannot be used: {reason}"),
            )
        };
        let mend = format!("mend it, or take it out of {named_in}");
        let request = to_json(&DescribeRequest::new());
        let answer = program.run(request).map_err(|failure| match failure {
            Failure::Missing => {
                let name = program.command.first().map_or("", String::as_str);
                refuse(&format!("there is no program `{name}`"))
                    .fix(format!("install it, or take `{id}` out of {named_in}"))
            }
            Failure::Other(reason) => refuse(&reason).fix(&mend),
        })?;
        let described = read_described(&answer).map_err(|reason| refuse(&reason).fix(&mend))?;
        // An exporter is known to the whole program by these; a run has a handful of them.
        let leak = |text: &str| -> &'static str { Box::leak(text.to_owned().into_boxed_str()) };
        Ok(Box::leak(Box::new(Self {
            id: leak(id),
            program,
            media_type: leak(&described.media_type),
            summary: leak(&described.summary),
            described,
        })))
    }

    /// A digest of the program: of its command, of the files that it names, and of what it says of itself.
    pub fn digest(&self) -> String {
        let mut text = format!("{:?}", self.program.command);
        for file in self.program.files() {
            let bytes = std::fs::read(&file).unwrap_or_default();
            text.push_str(&sha256(&bytes));
        }
        text.push_str(&sha256(&to_json(&self.described)));
        sha256(text.as_bytes())
    }

    fn fault(&self, message: impl Into<String>) -> ExportError {
        ExportError {
            exporter: self.id,
            message: message.into(),
        }
    }
}

fn to_json<T: serde::Serialize>(value: &T) -> Vec<u8> {
    // Plain structs of texts and finite numbers have no way to fail in memory.
    serde_json::to_vec(value).unwrap_or_default()
}

/// The protocol is read before anything else: what comes with another one may look like nothing we know.
fn check_protocol(answer: &[u8]) -> Result<(), String> {
    let ProtocolOnly { protocol } =
        serde_json::from_slice(answer).map_err(|error| no_answer(&error))?;
    if protocol == PROTOCOL {
        Ok(())
    } else {
        Err(format!(
            "it answers in protocol {protocol}, and this version of Jigless speaks {PROTOCOL}"
        ))
    }
}

fn no_answer(error: &serde_json::Error) -> String {
    format!("its answer is not what `jigless schema outside` says: {error}")
}

fn read_described(answer: &[u8]) -> Result<DescribeAnswer, String> {
    check_protocol(answer)?;
    let described: DescribeAnswer =
        serde_json::from_slice(answer).map_err(|error| no_answer(&error))?;
    if described.summary.trim().is_empty() {
        return Err("it does not say what it makes: `summary` is empty".to_owned());
    }
    options::check(&described.options)?;
    Ok(described)
}

impl AnyExporter for Outside {
    fn id(&self) -> &'static str {
        self.id
    }

    fn summary(&self) -> &'static str {
        self.summary
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn options(&self) -> Vec<OptionSpec> {
        options::specs(&self.described.options)
    }

    fn options_schema(&self) -> Value {
        options::schema(&self.described.options)
    }

    fn configure(
        &self,
        settings: &[Setting],
    ) -> Result<Box<dyn Configured + '_>, Vec<OptionFault>> {
        let options = options::settle(&self.described.options, settings)?;
        Ok(Box::new(Ready {
            outside: self,
            options,
        }))
    }
}

/// An outside format whose options are settled.
struct Ready<'a> {
    outside: &'a Outside,
    options: Map<String, Value>,
}

impl Configured for Ready<'_> {
    fn id(&self) -> &'static str {
        self.outside.id
    }

    fn stage(&self) -> Stage {
        Stage::Plan
    }

    fn options(&self) -> Value {
        Value::Object(self.options.clone())
    }

    fn arranging(&self) -> Option<jigless_core::arrange::Settings> {
        None
    }

    fn vet(&self, _: &ExportInput) -> Findings {
        Findings::new()
    }

    fn export(&self, input: &ExportInput) -> Result<Vec<Artifact>, ExportError> {
        let outside = self.outside;
        let request = request::export_request(input, &self.options);
        let answer = outside
            .program
            .run(to_json(&request))
            .map_err(|failure| match failure {
                Failure::Missing => outside.fault("the program is gone"),
                Failure::Other(reason) => outside.fault(reason),
            })?;
        check_protocol(&answer).map_err(|reason| outside.fault(reason))?;
        let answer: ExportAnswer =
            serde_json::from_slice(&answer).map_err(|error| outside.fault(no_answer(&error)))?;
        if let Some(error) = answer.error {
            return Err(outside.fault(error));
        }
        let mut seen = BTreeSet::new();
        let files = answer.files.into_iter().map(|file| {
            let path = file.path.clone();
            let wrong = |reason: &str| outside.fault(format!("its file `{path}`: {reason}"));
            if !seen.insert(folded(&path)) {
                return Err(wrong("it is there twice"));
            }
            if let Some(part) = &file.part
                && !input.workpieces.iter().any(|w| w.part.id == *part)
            {
                return Err(wrong(&format!("no part `{part}` was asked for")));
            }
            artifact(file, outside.media_type).map_err(|reason| wrong(&reason))
        });
        files.collect()
    }
}

fn artifact(file: FileJson, media_type: &'static str) -> Result<Artifact, String> {
    check_relative(&file.path)?;
    let bytes = match (file.text, file.base64) {
        (Some(text), None) => text.into_bytes(),
        (None, Some(base64)) => BASE64_STANDARD
            .decode(base64)
            .map_err(|error| format!("its base64 cannot be read: {error}"))?,
        _ => return Err("it must have either `text` or `base64`".to_owned()),
    };
    Ok(Artifact {
        path: file.path,
        media_type,
        part: file.part,
        bytes,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_protocol_is_judged_before_the_rest() {
        let error = read_described(br#"{"protocol": 2, "title": []}"#).unwrap_err();
        assert!(error.contains("protocol 2"), "{error}");
        let error = read_described(br#"{"protocol": 1, "title": []}"#).unwrap_err();
        assert!(error.contains("title"), "{error}");
        let error = read_described(b"Traceback").unwrap_err();
        assert!(error.contains("jigless schema outside"), "{error}");
        assert!(read_described(br#"{"protocol": 1, "summary": "pen files"}"#).is_ok());
    }

    #[test]
    fn only_whole_files_below_the_folder_are_taken() {
        let file = |path: &str, text: Option<&str>, base64: Option<&str>| {
            let file = FileJson {
                path: path.to_owned(),
                part: None,
                text: text.map(str::to_owned),
                base64: base64.map(str::to_owned),
            };
            artifact(file, "text/plain").map(|artifact| artifact.bytes)
        };
        assert_eq!(file("a/b.plt", Some("IN;"), None).unwrap(), b"IN;");
        // RFC 4648, section 10: BASE64("foobar") = "Zm9vYmFy".
        assert_eq!(file("b", None, Some("Zm9vYmFy")).unwrap(), b"foobar");
        for path in ["../a", "/etc/passwd", "a/../../b", "a\\b", ""] {
            assert!(file(path, Some("x"), None).is_err(), "{path}");
        }
        assert!(file("a", None, None).is_err());
        assert!(file("a", Some("x"), Some("eA==")).is_err());
        assert!(file("a", None, Some("!")).is_err());
    }
}
