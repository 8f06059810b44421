//! `jigless coupon`: a test piece for a laser, and what was measured on it into a profile.

use std::path::PathBuf;

use jigless_core::load::{Entry, Node, Value, parse};
use jigless_core::source::Sources;
use jigless_core::units::decimal;
use jigless_exporters::coupon::{CouponResult, evaluate, files};

use crate::args::CouponArgs;
use crate::console::{self, Console};
use crate::disk::{in_words, read_text};
use crate::exit::{Exit, Problem};
use crate::keep::write_all;
use crate::styled::shown;

/// Makes the files of a coupon, or reads one.
pub fn run(args: &CouponArgs, console: &mut Console) -> Exit {
    let done = match (args.best, args.block.as_slice()) {
        (Some(best), &[x]) => learn(args, best, (x, x)),
        (Some(best), &[x, y]) => learn(args, best, (x, y)),
        (None, []) => make(args),
        _ => Err(Problem::usage(
            "`--best` and `--block` belong together, and a block has one or two sizes",
        )
        .fix("write `--best 3.10 --block 39.82`, or `--block 39.82,39.85` for width and height")),
    };
    match done {
        Ok(said) => {
            console.out(&said);
            Exit::Done
        }
        Err(problem) => {
            console::problem(&problem);
            problem.exit
        }
    }
}

fn make(args: &CouponArgs) -> Result<String, Problem> {
    let artifacts = files(args.thickness, crate::TOOL)
        .map_err(|error| Problem::new(Exit::Faulty, error.message))?;
    let files = artifacts.into_iter();
    let files: Vec<(PathBuf, Vec<u8>)> = files
        .map(|artifact| (args.out.join(&artifact.path), artifact.bytes))
        .collect();
    write_all(&files, args.force)?;
    let lines = files.iter().map(|(path, _)| format!("{}\n", shown(path)));
    Ok(lines.collect())
}

fn learn(args: &CouponArgs, best: f64, block: (f64, f64)) -> Result<String, Problem> {
    let result = evaluate(args.thickness, best, block)
        .map_err(|message| Problem::new(Exit::Faulty, message))?;
    let path = &args.profile;
    let shown = shown(path);
    let before = if path.exists() {
        let bytes = read_text(path)
            .map_err(|reason| Problem::disk(format!("{shown} cannot be read: {reason}")))?;
        String::from_utf8(bytes)
            .map_err(|_| Problem::new(Exit::Faulty, format!("{shown} is not UTF-8")))?
    } else {
        String::new()
    };
    let after = with_settings(&before, &settings(&result)).ok_or_else(|| {
        Problem::new(
            Exit::Faulty,
            format!("{shown} is no profile that can be changed"),
        )
        .fix("put it right first; `jigless export --profile` reports what is wrong")
    })?;
    crate::write::replace(path, after.as_bytes()).map_err(|error| {
        Problem::disk(format!("{shown} cannot be written: {}", in_words(&error)))
    })?;
    let [kerf, fit] = settings(&result);
    Ok(format!(
        "{shown}: {}: {}, {}: {}\nin a plan, give a tray `clearance: {} mm` for this fit\n",
        kerf.0, kerf.1, fit.0, fit.1, fit.1
    ))
}

/// The settings of a profile that follow from a coupon.
fn settings(result: &CouponResult) -> [(&'static str, String); 2] {
    let number = |value: f64| decimal(value, 3);
    let kerf = if (result.kerf_x - result.kerf_y).abs() < 1e-9 {
        number(result.kerf_x)
    } else {
        format!(
            "{{x: {}, y: {}}}",
            number(result.kerf_x),
            number(result.kerf_y)
        )
    };
    [("kerf", kerf), ("fit", number(result.fit))]
}

/// The text of a profile with these settings under `machine:`; all else, comments too, stays as it is. `None` where the
/// text is none that can be changed.
fn with_settings(text: &str, settings: &[(&str, String)]) -> Option<String> {
    let mut text = text.to_owned();
    for (key, value) in settings {
        text = with_setting(&text, key, value)?;
    }
    Some(text)
}

fn with_setting(text: &str, key: &str, value: &str) -> Option<String> {
    let blank = text.lines().all(|line| {
        let line = line.trim();
        line.is_empty() || line.starts_with('#')
    });
    let appended = |text: &str| {
        let gap = if text.is_empty() || text.ends_with('\n') {
            ""
        } else {
            "\n"
        };
        format!("{text}{gap}machine:\n  {key}: {value}\n")
    };
    if blank {
        return Some(appended(text));
    }
    let mut sources = Sources::default();
    let root = parse(&mut sources, "profile", text.as_bytes()).ok()?;
    let Value::Map(_) = root.value else {
        return None;
    };
    let Some(machine) = root.get("machine") else {
        // A root in braces cannot be added to below.
        return (!text.trim_start().starts_with('{')).then(|| appended(text));
    };
    let Value::Map(entries) = &machine.value else {
        return None;
    };
    if let Some(entry) = entries.iter().find(|entry| entry.key.value == key) {
        let (start, end) = extent(text, &entry.value)?;
        return Some(format!("{}{value}{}", &text[..start], &text[end..]));
    }
    let first = entries.first()?;
    Some(before(text, first, key, value))
}

/// The bytes of a value. That of a map or list ends with its last value, so its bracket is looked for.
fn extent(text: &str, node: &Node) -> Option<(usize, usize)> {
    let (start, end) = (node.span.start as usize, node.span.end as usize);
    if matches!(node.value, Value::Scalar(_)) {
        return Some((start, end));
    }
    let inside = text.get(start..)?.starts_with('{');
    let rest = text.get(end..)?;
    let bracket = rest.find('}').filter(|at| rest[..*at].trim().is_empty());
    match bracket {
        Some(at) if inside => Some((start, end + at + 1)),
        _ => None,
    }
}

/// Puts a setting before the first one of a map.
fn before(text: &str, first: &Entry, key: &str, value: &str) -> String {
    let at = first.key.span.start as usize;
    let line = text[..at].rfind('\n').map_or(0, |newline| newline + 1);
    let indent = &text[line..at];
    if indent.trim().is_empty() {
        format!("{}{indent}{key}: {value}\n{}", &text[..line], &text[line..])
    } else {
        format!("{}{key}: {value}, {}", &text[..at], &text[at..])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn result() -> [(&'static str, String); 2] {
        settings(&CouponResult {
            kerf_x: 0.18,
            kerf_y: 0.18,
            fit: 0.28,
        })
    }

    #[test]
    fn a_profile_keeps_all_else() {
        for (before, after) in [
            ("", "machine:\n  fit: 0.28\n  kerf: 0.18\n"),
            (
                "# Our laser\nmachine:\n  kerf: 0.2 # guessed\n  bed: [600, 400]\n",
                "# Our laser\nmachine:\n  fit: 0.28\n  kerf: 0.18 # guessed\n  bed: [600, 400]\n",
            ),
            (
                "machine: {kerf: {x: 0.1, y: 0.2}, cell: 8}\n",
                "machine: {fit: 0.28, kerf: 0.18, cell: 8}\n",
            ),
            (
                "export:\n  dxf-cnc: {units: in}",
                "export:\n  dxf-cnc: {units: in}\nmachine:\n  fit: 0.28\n  kerf: 0.18\n",
            ),
        ] {
            let made = with_settings(before, &result()).unwrap();
            assert_eq!(made, after);
            assert_eq!(
                with_settings(&made, &result()).unwrap(),
                after,
                "twice is once"
            );
        }
        assert_eq!(with_settings("- a\n", &result()), None);
        assert_eq!(with_settings("machine: 5\n", &result()), None);
    }
}
