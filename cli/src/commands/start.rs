//! `jigless start`: a small plan to start from.

use std::fs;
use std::io::ErrorKind;

use crate::args::StartArgs;
use crate::console::{self, Console};
use crate::disk::in_words;
use crate::exit::{Exit, Problem};
use crate::find::PLAN_FILE;
use crate::styled::shown;
use crate::write::create;

/// The file beside the plan that editors read.
const SCHEMA_FILE: &str = "plan.schema.json";

/// The plan that is written. Its first lines name the schema in the two ways that editors look for.
const STARTER: &str = include_str!("../starter.yaml");

/// Writes the plan into a new or empty folder.
pub fn run(args: &StartArgs, console: &mut Console) -> Exit {
    match start(args) {
        Ok(()) => {
            let dir = shell_word(&args.dir.to_string_lossy());
            let file = args.dir.join(PLAN_FILE);
            console.out(&format!(
                "{} is written; `jigless export {dir}` makes its files\n",
                shown(&file)
            ));
            Exit::Done
        }
        Err(problem) => {
            console::problem(&problem);
            problem.exit
        }
    }
}

/// A path as it is typed, in quotes where it needs them.
fn shell_word(path: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "/\\._-:+@".contains(c);
    if path.chars().all(plain) {
        path.to_owned()
    } else {
        format!("\"{path}\"")
    }
}

fn start(args: &StartArgs) -> Result<(), Problem> {
    let dir = &args.dir;
    let failed = |error: &std::io::Error| {
        Problem::disk(format!(
            "{} cannot be made: {}",
            shown(dir),
            in_words(error)
        ))
    };
    match fs::read_dir(dir) {
        Ok(mut entries) => {
            if entries.next().is_some() {
                return Err(Problem::disk(format!("{}: it is not empty", shown(dir)))
                    .fix("name a folder that does not exist yet"));
            }
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            fs::create_dir_all(dir).map_err(|error| failed(&error))?;
        }
        Err(error) => return Err(failed(&error)),
    }
    create(&dir.join(SCHEMA_FILE), super::schema::text().as_bytes())
        .map_err(|error| failed(&error))?;
    create(&dir.join(PLAN_FILE), STARTER.as_bytes()).map_err(|error| failed(&error))
}
