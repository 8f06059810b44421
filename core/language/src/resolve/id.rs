//! Names of parts and stock. A part's name becomes a file name on every system, so it is kept to what all of them take.

use jigless_model::diag::Finding;
use jigless_model::source::Span;

use super::context::{Context, shortened};
use crate::codes;

const LONGEST: usize = 64;

/// Device names that cannot be files on Windows, whatever follows the dot.
const RESERVED: &[&str] = &[
    "con", "prn", "aux", "nul", "com0", "com1", "com2", "com3", "com4", "com5", "com6", "com7",
    "com8", "com9", "lpt0", "lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];

/// Reports what is wrong with the id of a part; gives whether it can be used.
pub(super) fn check_part_id(context: Context, id: &str, span: Span) -> bool {
    let problem = if id.is_empty() {
        Some("is empty".to_owned())
    } else if id.chars().count() > LONGEST {
        Some(format!("has {} characters", id.chars().count()))
    } else if RESERVED.contains(&id) {
        Some("is a device on some systems, so no file can have that name".to_owned())
    } else if !id.starts_with(|c: char| c.is_ascii_lowercase() || c.is_ascii_digit())
        || !id
            .chars()
            .all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || "-_".contains(c))
    {
        Some("has other characters than the names of files keep everywhere".to_owned())
    } else {
        None
    };
    let Some(problem) = problem else {
        return true;
    };
    context.find(
        Finding::error(codes::BAD_NAME, span, format!("the part name `{}` {problem}", shortened(id))).fix(
            format!(
                "use up to {LONGEST} lower-case letters, digits, `-` and `_`, such as `{}`; `title:` takes any text",
                suggestion(id)
            ),
        ),
    );
    false
}

/// Reports what is wrong with the id of a stock; gives whether it can be used.
pub(super) fn check_stock_id(context: Context, id: &str, span: Span) -> bool {
    if crate::length::Expression::is_name(id) && id.len() <= LONGEST {
        return true;
    }
    context.find(
        Finding::error(codes::BAD_NAME, span, format!("`{}` cannot name a stock", shortened(id))).fix(
            "use letters, digits and `_`, starting with a letter, so that lengths can say `birch18.thickness`; `label:` takes any text",
        ),
    );
    false
}

fn suggestion(id: &str) -> String {
    let mut word: String = id
        .to_lowercase()
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() || c == '_' {
                c
            } else {
                '-'
            }
        })
        .collect();
    while word.contains("--") {
        word = word.replace("--", "-");
    }
    let word: String = word
        .trim_matches(['-', '_'])
        .chars()
        .take(LONGEST)
        .collect();
    if word.is_empty() || RESERVED.contains(&word.as_str()) {
        "side-panel".to_owned()
    } else {
        word
    }
}
