//! A profile: how a machine or printer wants its files. It stands apart from plans, since each reader has another one.
//! The user's own configuration is a profile that always holds.

use std::path::{Path, PathBuf};
use std::time::Duration;

use etcetera::BaseStrategy;
use jigless_core::check::codes::UNKNOWN_KEY;
use jigless_core::code::Code;
use jigless_core::diag::{Finding, Findings, nearest};
use jigless_core::export::Setting;
use jigless_core::load::{Node, Value, parse};
use jigless_core::source::{Sources, Span};
use jigless_exporters::renamed;

use crate::codes;
use crate::disk::{folder_of, leads_out, read_yaml};
use crate::exit::Problem;
use crate::outside::Program;
use crate::styled::shown;

/// Options of single formats.
const EXPORT: &str = "export";
/// Options for every format that has them: what is true of a machine, said once.
const MACHINE: &str = "machine";
/// What it says for plans that do not say it themselves.
pub const PLAN: &str = "plan";
/// Programs that are formats.
const OUTSIDE: &str = "outside";
/// The keys of a plan that a profile may give.
pub const FOR_PLANS: [&str; 3] = ["lengths_sold", "prices", "offcuts"];
/// How long a run of a program may take where nothing else is said, in seconds.
const TIME_LIMIT: f64 = 60.0;
/// How much a program may answer where nothing else is said, in megabytes.
const SIZE_LIMIT: f64 = 64.0;
/// The greatest of both that may be asked for.
const GREATEST: f64 = 100_000.0;

/// A profile that was read.
#[derive(Debug, Default)]
pub struct Profile {
    /// Its path as the user would write it.
    pub name: String,
    /// Its text.
    pub sources: Sources,
    /// The formats that it sets, in the order of the text.
    pub exporters: Vec<ExporterSection>,
    /// The programs that it names, in the order of the text.
    pub outside: Vec<OutsideSection>,
    /// What it sets of every format that has the option. A format's own section overrides it.
    pub machine: Vec<PlacedSetting>,
}

/// What a profile sets of one format.
#[derive(Debug)]
pub struct ExporterSection {
    /// Id of the format.
    pub id: String,
    /// The place of the id.
    pub key: Span,
    /// The options, in the order of the text.
    pub settings: Vec<PlacedSetting>,
}

/// A program that is a format.
#[derive(Debug)]
pub struct OutsideSection {
    /// Id of the format.
    pub id: String,
    /// The place of the id.
    pub key: Span,
    /// How it is run.
    pub program: Program,
}

/// An option and where it is set.
#[derive(Debug, Clone)]
pub struct PlacedSetting {
    /// The option.
    pub setting: Setting,
    /// The place of its name.
    pub key: Span,
    /// The place of its value.
    pub value: Span,
}

/// The user's configuration: `jigless/config.yaml` below `XDG_CONFIG_HOME` or `~/.config`, and below `%APPDATA%` on
/// Windows; nothing where the user has no home folder.
pub fn user_file() -> Option<PathBuf> {
    let folders = etcetera::choose_base_strategy().ok()?;
    Some(folders.config_dir().join("jigless").join("config.yaml"))
}

/// Reads the bytes of a profile that was named, or of the user's configuration.
///
/// # Errors
/// When the disk refuses, or the file is none that can be read; when a profile is a link out of its folder. The user's own
/// configuration may be a link to wherever the user keeps it.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, Problem> {
    let is_own = user_file().is_some_and(|file| file == path);
    if !is_own && leads_out(path, folder_of(path)).unwrap_or(false) {
        let message = format!(
            "the profile {} is a link that leads out of its folder",
            shown(path)
        );
        return Err(Problem::disk(message).fix("name the file that it leads to"));
    }
    read_yaml(path).map_err(|reason| {
        Problem::disk(format!(
            "the profile {} cannot be read: {reason}",
            shown(path)
        ))
    })
}

/// Reads a profile. Programs run in its folder.
///
/// # Errors
/// The texts and what is wrong with them: no YAML, an unknown key, something that is no map, a program without a command.
pub fn read(path: &Path, bytes: &[u8]) -> Result<Profile, (Sources, Findings)> {
    let name = path.to_string_lossy().into_owned();
    let mut sources = Sources::default();
    let root = match parse(&mut sources, &name, bytes) {
        Ok(root) => root,
        Err(findings) => return Err((sources, findings)),
    };
    let mut findings = Findings::new();
    let mut profile = Profile {
        name,
        ..Profile::default()
    };
    for (key, span, sections) in entries(&root, "the profile", "export:", &mut findings) {
        let hint = "the id of a format, and below it its options";
        if key == EXPORT {
            for (id, span, options) in entries(sections, "`export`", hint, &mut findings) {
                profile.exporters.push(ExporterSection {
                    id: id.to_owned(),
                    key: span,
                    settings: settings(options, "a format", &mut findings),
                });
            }
        } else if key == MACHINE {
            profile.machine = settings(sections, "`machine`", &mut findings);
        } else if key == OUTSIDE {
            let hint = "the id of a format, and below it the command of its program";
            for (id, span, node) in entries(sections, "`outside`", hint, &mut findings) {
                let folder = path.parent().unwrap_or(Path::new("")).to_owned();
                if let Some(program) = program(node, folder, &mut findings) {
                    profile.outside.push(OutsideSection {
                        id: id.to_owned(),
                        key: span,
                        program,
                    });
                }
            }
        } else if key == PLAN {
            let hint = "lengths_sold: [...]";
            for (key, span, _) in entries(sections, "`plan`", hint, &mut findings) {
                if !FOR_PLANS.contains(&key) {
                    findings.push(unknown(UNKNOWN_KEY, "key", key, span, &FOR_PLANS));
                }
            }
        } else {
            let keys = [EXPORT, MACHINE, OUTSIDE, PLAN];
            findings.push(unknown(UNKNOWN_KEY, "key", key, span, &keys));
        }
    }
    profile.sources = sources;
    if findings.has_errors() {
        Err((profile.sources, findings))
    } else {
        Ok(profile)
    }
}

/// The options of a section.
fn settings(node: &Node, what: &str, findings: &mut Findings) -> Vec<PlacedSetting> {
    let placed = |(option, key, value): (&str, Span, &Node)| PlacedSetting {
        setting: Setting {
            key: option.to_owned(),
            value: value.to_json(),
        },
        key,
        value: value.span,
    };
    let entries = entries(node, what, "option: value", findings);
    entries.into_iter().map(placed).collect()
}

/// How a program is run, from its section.
fn program(node: &Node, folder: PathBuf, findings: &mut Findings) -> Option<Program> {
    const KEYS: [&str; 3] = ["command", "size_limit", "time_limit"];
    let mut command = None;
    let (mut time, mut size) = (Some(TIME_LIMIT), Some(SIZE_LIMIT));
    for (key, span, value) in entries(node, "an outside format", "command: [...]", findings) {
        match key {
            "command" => command = Some(words(value, findings)?),
            "time_limit" => time = limit(value, "seconds", findings),
            "size_limit" => size = limit(value, "megabytes", findings),
            _ => findings.push(unknown(UNKNOWN_KEY, "key", key, span, &KEYS)),
        }
    }
    let Some(command) = command else {
        let message = "an outside format needs its command";
        let fix = "write `command: [python3, pen.py]`";
        findings.push(Finding::error(codes::NO_COMMAND, node.span, message).fix(fix));
        return None;
    };
    Some(Program {
        command,
        folder,
        time: Duration::from_secs_f64(time?),
        bytes: (size? * 1e6) as u64,
    })
}

fn words(node: &Node, findings: &mut Findings) -> Option<Vec<String>> {
    let words: Option<Vec<String>> = match &node.value {
        Value::List(items) => items
            .iter()
            .map(|item| item.scalar().map(|scalar| scalar.text.clone()))
            .collect(),
        Value::Scalar(scalar) => Some(vec![scalar.text.clone()]),
        Value::Null | Value::Map(_) => None,
    };
    let words = words.filter(|words| words.first().is_some_and(|first| !first.is_empty()));
    if words.is_none() {
        let message = "a command is a program and its arguments";
        let fix = "write a list of texts: `[python3, pen.py]`";
        findings.push(Finding::error(codes::BAD_COMMAND, node.span, message).fix(fix));
    }
    words
}

fn limit(node: &Node, unit: &str, findings: &mut Findings) -> Option<f64> {
    let number = node.to_json().as_f64();
    let number = number.filter(|number| *number > 0.0 && *number <= GREATEST);
    if number.is_none() {
        let message = format!("a limit is a number of {unit} above 0, at most {GREATEST}");
        findings.push(Finding::error(codes::BAD_LIMIT, node.span, message).fix("write a number"));
    }
    number
}

/// Formats that there are not, and programs under the name of a format that is built in. `built_in` are those of
/// Jigless, `ids` all.
pub fn check_ids(profile: &Profile, built_in: &[&str], ids: &[&str]) -> Findings {
    let mut findings = Findings::new();
    for section in &profile.exporters {
        let id = section.id.as_str();
        if let Some(name) = renamed(id) {
            let message = format!("format `{id}` is called `{name}` now");
            let finding = Finding::error(codes::UNKNOWN_FORMAT, section.key, message);
            findings.push(finding.fix(format!("write `{name}`")));
        } else if !ids.contains(&id) {
            findings.push(unknown(
                codes::UNKNOWN_FORMAT,
                "format",
                id,
                section.key,
                ids,
            ));
        }
    }
    for section in &profile.outside {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let reason = if built_in.contains(&section.id.as_str()) {
            "is the id of a format that is built in"
        } else if section.id.is_empty() || !section.id.chars().all(plain) {
            "is not made of lower-case letters, digits and `-`"
        } else {
            continue;
        };
        let message = format!("`{}` {reason}", section.id);
        let fix = "give it another name";
        findings.push(Finding::error(codes::BAD_FORMAT_ID, section.key, message).fix(fix));
    }
    findings
}

/// The entries of a map, or a finding that it is none.
fn entries<'a>(
    node: &'a Node,
    what: &str,
    hint: &str,
    findings: &mut Findings,
) -> Vec<(&'a str, Span, &'a Node)> {
    if let Value::Map(entries) = &node.value {
        let parts = entries.iter();
        return parts
            .map(|entry| (entry.key.value.as_str(), entry.key.span, &entry.value))
            .collect();
    }
    let message = format!("{what} must be a map, and this is {}", node.kind());
    findings
        .push(Finding::error(codes::NOT_A_MAP, node.span, message).fix(format!("write {hint}")));
    Vec::new()
}

fn unknown(code: Code, what: &str, word: &str, span: Span, allowed: &[&str]) -> Finding {
    let fix = match nearest(word, allowed.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("there is {}", allowed.join(", ")),
    };
    Finding::error(code, span, format!("there is no {what} `{word}`")).fix(fix)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    const IDS: [&str; 2] = ["cut-list", "drawing"];

    fn read_all(text: &str) -> Result<Profile, (Sources, Findings)> {
        let profile = read(Path::new("mill/p.yaml"), text.as_bytes())?;
        let findings = check_ids(&profile, &IDS, &IDS);
        if findings.has_errors() {
            return Err((profile.sources, findings));
        }
        Ok(profile)
    }

    #[test]
    fn settings_come_in_the_order_of_the_text_with_their_places() {
        let text =
            "export:\n  drawing:\n    scale: 2\n    layers: [a, b]\n  cut-list: {title: \"7\"}\n";
        let profile = read_all(text).unwrap();
        let all: Vec<_> = profile
            .exporters
            .iter()
            .flat_map(|section| section.settings.iter().map(|s| (section.id.as_str(), s)))
            .map(|(id, s)| (id, s.setting.key.as_str(), s.setting.value.clone()))
            .collect();
        assert_eq!(
            all,
            [
                ("drawing", "scale", json!(2)),
                ("drawing", "layers", json!(["a", "b"])),
                ("cut-list", "title", json!("7")),
            ]
        );
        let scale = &profile.exporters[0].settings[0];
        assert_eq!(profile.sources.slice(scale.key), "scale");
        assert_eq!(profile.sources.slice(scale.value), "2");
    }

    #[test]
    fn faults_are_reported_with_place_and_nearest_word() {
        for (text, place, message, fix) in [
            ("exprot: {}\n", (1, 1), "no key `exprot`", "`export`"),
            (
                "export:\n  cutlist: {}\n",
                (2, 3),
                "no format `cutlist`",
                "`cut-list`",
            ),
            (
                "export:\n  drawing: 5\n",
                (2, 12),
                "must be a map",
                "option: value",
            ),
            (
                "export: [a]\n",
                (1, 9),
                "must be a map",
                "the id of a format",
            ),
            ("- a\n", (1, 1), "must be a map", "export:"),
            (
                "outside:\n  pen: {command: a, comand: [a]}\n",
                (2, 21),
                "no key `comand`",
                "`command`",
            ),
            (
                "outside:\n  pen: {}\n",
                (2, 8),
                "needs its command",
                "[python3",
            ),
            (
                "outside:\n  pen: {command: []}\n",
                (2, 18),
                "a program and its arguments",
                "list",
            ),
            (
                "outside:\n  pen: {command: a, time_limit: 0}\n",
                (2, 33),
                "seconds above 0",
                "number",
            ),
            (
                "outside:\n  drawing: {command: a}\n",
                (2, 3),
                "built in",
                "another name",
            ),
            (
                "outside:\n  Pen: {command: a}\n",
                (2, 3),
                "lower-case",
                "another name",
            ),
        ] {
            let (sources, findings) = read_all(text).unwrap_err();
            let list = findings.sorted();
            let span = list[0].span.unwrap();
            assert_eq!(
                sources.file(span.file).line_column(span.start),
                place,
                "{text}"
            );
            assert!(list[0].message.contains(message), "{:?}", list[0]);
            assert!(list[0].fix.as_ref().unwrap().contains(fix), "{:?}", list[0]);
        }
        assert!(read_all("").is_err());
        assert!(read_all("export: {a: 1").is_err());
    }

    #[test]
    fn a_program_runs_in_the_folder_of_its_profile() {
        let profile =
            read_all("outside:\n  pen: {command: [python3, pen.py], time_limit: 1.5}\n").unwrap();
        assert_eq!(
            profile.outside[0].program,
            Program {
                command: vec!["python3".to_owned(), "pen.py".to_owned()],
                folder: PathBuf::from("mill"),
                time: Duration::from_millis(1500),
                bytes: 64_000_000,
            }
        );
    }
}
