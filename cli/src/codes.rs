//! Every code that a finding can have, wherever it comes from: checks, reading, formats and the command line.

use jigless_core::check::codes::CodeKind;
use jigless_core::check::{CHECKS, CheckKind};

jigless_core::codes! {
    BAD_COMMAND = Error "bad-command":
        "a command of an outside format that cannot be run",
        "A profile names the program and its arguments as a list of texts.",
        "command: [python3, pen.py]";
    BAD_FORMAT_ID = Error "bad-format-id":
        "a name that an outside format cannot have",
        "Its name is that of its output folder, and no built-in format may have it.",
        "outside: {dxf-cnc: {command: [python3, pen.py]}}";
    BAD_LIMIT = Error "bad-limit":
        "a limit of an outside format that is no number above 0",
        "A profile limits the seconds that a program may take and the megabytes that it may answer with.",
        "time_limit: -1";
    NO_COMMAND = Error "no-command":
        "an outside format without a command",
        "A profile says which program makes the format.",
        "outside: {pen: {}}";
    NOT_A_MAP = Error "not-a-map":
        "something other than a map in a profile",
        "A profile and each of its sections is a map: a name, a colon, and what belongs to it, one for each line.",
        "export: dxf-laser";
    OPTION_VALUE = Error "option-value":
        "a value that an option does not take",
        "`jigless formats` says what each option accepts.",
        "";
    UNKNOWN_FORMAT = Error "unknown-format":
        "a format that does not exist",
        "`jigless formats` lists the formats. A profile names them under `export`.",
        "export: {dxf-lasre: {}}";
    UNKNOWN_OPTION = Error "unknown-option":
        "an option that a format does not have",
        "`jigless formats` lists the options of each format.",
        "";
}

/// What a code stands for.
#[derive(Debug, Clone, Copy)]
pub enum Meaning {
    /// A check, which can be set and accepted.
    Check(&'static CheckKind),
    /// Anything else.
    Fault(&'static CodeKind),
}

/// Everything that is not a check.
pub fn faults() -> impl Iterator<Item = &'static CodeKind> {
    let core = jigless_core::check::codes::CODES.iter();
    core.chain(jigless_core::steps::CODES)
        .chain(jigless_exporters::CODES)
        .chain(CODES)
}

/// Every code, checks first.
pub fn all() -> impl Iterator<Item = &'static str> {
    let checks = CHECKS.iter().map(|kind| kind.code.as_str());
    checks.chain(faults().map(|kind| kind.code.as_str()))
}

/// What a code stands for.
pub fn meaning(code: &str) -> Option<Meaning> {
    let check = jigless_core::check::kind(code).map(Meaning::Check);
    check.or_else(|| faults().find(|kind| kind.code == code).map(Meaning::Fault))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_code_means_two_things() {
        let mut codes: Vec<&str> = all().collect();
        codes.sort_unstable();
        let count = codes.len();
        codes.dedup();
        assert_eq!(codes.len(), count);
    }
}
