//! From the paths of the command line to the plans that they mean.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io::{BufRead, BufReader, ErrorKind, Read};
use std::path::{Path, PathBuf};

use ignore::{DirEntry, WalkBuilder};
use jigless_core::load::MAX_FILE_BYTES;

use crate::disk::{folder_of, in_words, leads_out};
use crate::exit::{Exit, Problem};
use crate::manifest::{MANIFEST, PENDING, is_ours};
use crate::paths::{check_relative, folded};
use crate::styled::shown;
use crate::write::{There, what_is};

/// The file that makes a folder a plan folder.
pub const PLAN_FILE: &str = "plan.yaml";

/// A plan and what its output folder is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PlanAt {
    /// Path of the output folder below the folder for all output, with `/` between names.
    pub name: String,
    /// The plan file.
    pub file: PathBuf,
}

/// What was found.
#[derive(Debug, Default)]
pub struct Found {
    /// The plans, in the order of the paths, and by name within a folder.
    pub plans: Vec<PlanAt>,
    /// What cannot be read or named.
    pub problems: Vec<Problem>,
    /// Whether every path was a folder that was searched for plans.
    pub searched: bool,
}

/// Finds the plans that the paths mean. `out` is the folder for output, which is not searched.
pub fn find(paths: &[PathBuf], out: Option<&Path>) -> Found {
    let mut walk = Walk {
        out: out.and_then(|out| fs::canonicalize(out).ok()),
        found: Found {
            searched: true,
            ..Found::default()
        },
    };
    for path in paths {
        walk.given(path);
    }
    // The same plan given twice is still one plan.
    let mut seen = BTreeSet::new();
    walk.found.plans.retain(|plan| {
        let file = fs::canonicalize(&plan.file).unwrap_or_else(|_| plan.file.clone());
        seen.insert((plan.name.clone(), file))
    });
    walk.found
}

/// Refuses plans whose output would fall into one folder, or into one format's folder of another plan.
pub fn check_apart(plans: &[PlanAt], exporters: &[&str]) -> Vec<Problem> {
    let mut problems = Vec::new();
    let mut by_name: BTreeMap<String, &PlanAt> = BTreeMap::new();
    for plan in plans {
        if let Some(other) = by_name.insert(folded(&plan.name), plan) {
            problems.push(clash(other, plan));
        }
    }
    for (name, plan) in &by_name {
        for taken in exporters.iter().chain(&[MANIFEST, PENDING]) {
            let tail = format!("/{taken}");
            for (at, _) in name.match_indices(&tail) {
                let ends = matches!(name.as_bytes().get(at + tail.len()), None | Some(b'/'));
                if let Some(other) = by_name.get(&name[..at]).filter(|_| ends) {
                    problems.push(clash(other, plan));
                }
            }
        }
    }
    problems
}

fn clash(one: &PlanAt, other: &PlanAt) -> Problem {
    Problem::usage(format!(
        "{} and {} would be written into the same folder: {} and {}",
        shown(&one.file),
        shown(&other.file),
        one.name,
        other.name
    ))
    .fix("rename one of them, or export them one at a time, each with its own --out")
}

struct Walk {
    out: Option<PathBuf>,
    found: Found,
}

impl Walk {
    /// A path of the command line.
    fn given(&mut self, path: &Path) {
        let about = match fs::metadata(path) {
            Ok(about) => about,
            Err(error) => {
                let exit = match error.kind() {
                    ErrorKind::NotFound | ErrorKind::NotADirectory => Exit::Usage,
                    _ => Exit::Disk,
                };
                let message = format!("{}: {}", shown(path), in_words(&error));
                self.found.problems.push(Problem::new(exit, message));
                return;
            }
        };
        if !about.is_dir() {
            self.found.searched = false;
            self.add_file(path);
        } else if is_plan_folder(path) {
            self.found.searched = false;
            self.add_folder(path);
        } else {
            let before = (self.found.plans.len(), self.found.problems.len());
            self.folder(path);
            if before == (self.found.plans.len(), self.found.problems.len()) {
                self.found.problems.push(
                    Problem::usage(format!("{}: no plan in it", shown(path))).fix(format!(
                        "looked, in it and in every folder below that git would not ignore, for a folder with a \
                         {PLAN_FILE} and for .yaml and .yml files with a line that starts with `jigless:`; `jigless start \
                         DIR` starts a plan"
                    )),
                );
            }
        }
    }

    fn add_folder(&mut self, folder: &Path) {
        let name = own_name(folder, |path| path.file_name().map(PathBuf::from));
        self.add(name.as_deref(), folder.join(PLAN_FILE), folder);
    }

    fn add_file(&mut self, file: &Path) {
        let folder = folder_of(file);
        let name = if file.file_name().is_some_and(|name| name == PLAN_FILE) {
            own_name(folder, |path| path.file_name().map(PathBuf::from))
        } else {
            own_name(file, |path| path.file_stem().map(PathBuf::from))
        };
        self.add(name.as_deref(), file.to_owned(), folder);
    }

    /// Adds a plan of a folder that was named. A plan file that is a link out of that folder is refused: whoever sends a
    /// library must not make us read, and print, other files of this machine.
    fn add(&mut self, name: Option<&Path>, file: PathBuf, folder: &Path) {
        if leads_out(&file, folder).unwrap_or(false) {
            let message = format!(
                "{}: it is a link that leads out of {}",
                shown(&file),
                shown(folder)
            );
            let problem = Problem::disk(message).fix("put the file itself there");
            self.found.problems.push(problem);
            return;
        }
        match name.ok_or("it has no name").and_then(plan_name) {
            Ok(name) => self.found.plans.push(PlanAt { name, file }),
            Err(reason) => self.found.problems.push(
                Problem::new(
                    Exit::Faulty,
                    format!(
                        "{}: no output folder can be named after it: {reason}",
                        shown(&file)
                    ),
                )
                .fix("rename it"),
            ),
        }
    }

    /// Everything below a folder that is not a plan folder itself, but what git would ignore. Names are relative to
    /// `root`.
    fn folder(&mut self, root: &Path) {
        let out = self.out.clone();
        let mut walk = WalkBuilder::new(root);
        // A library that was unpacked from an archive has the rules of the repository that it came from.
        walk.require_git(false)
            .ignore(false)
            .sort_by_file_name(Ord::cmp)
            .filter_entry(move |entry| {
                entry.depth() == 0 || !is_passed_over(entry, out.as_deref())
            });
        let mut files = Vec::new();
        let mut plan_folders = BTreeSet::new();
        for entry in walk.build() {
            let entry = match entry {
                Ok(entry) => entry,
                Err(error) => {
                    self.found.problems.push(Problem::disk(walk_fault(&error)));
                    continue;
                }
            };
            if let Some(error) = entry.error() {
                self.found.problems.push(Problem::disk(walk_fault(error)));
            }
            let Some(kind) = entry.file_type() else {
                continue;
            };
            let is_plan = entry.file_name() == PLAN_FILE;
            // Folders that are links are not searched. A plan file may be a link within the library.
            if kind.is_dir() || !is_plan && (!kind.is_file() || !is_yaml(entry.path())) {
                continue;
            }
            if let (true, Some(folder)) = (is_plan, entry.path().parent()) {
                plan_folders.insert(folder.to_owned());
            }
            files.push(entry.into_path());
        }
        for path in files {
            let above = path.ancestors().skip(1);
            // The outermost plan folder owns all that is below it: what the plan includes stands there.
            let owner = above
                .take_while(|folder| *folder != root)
                .filter(|folder| plan_folders.contains(*folder))
                .last();
            let relative = |path: &Path| path.strip_prefix(root).unwrap_or(path).to_owned();
            match owner {
                Some(folder) if path == folder.join(PLAN_FILE) => {
                    self.add(Some(&relative(folder)), path, root);
                }
                Some(_) => {}
                None => match has_mark(&path) {
                    Ok(true) => self.add(Some(&relative(&path).with_extension("")), path, root),
                    Ok(false) => {}
                    Err(error) => {
                        let problem = format!("{}: {}", shown(&path), in_words(&error));
                        self.found.problems.push(Problem::disk(problem));
                    }
                },
            }
        }
    }
}

/// Whether a folder holds output: ours, by its manifest, or the folder for it.
fn is_passed_over(entry: &DirEntry, out: Option<&Path>) -> bool {
    entry.file_type().is_some_and(|kind| kind.is_dir())
        && (is_ours(&entry.path().join(MANIFEST))
            || out.is_some() && fs::canonicalize(entry.path()).ok().as_deref() == out)
}

/// What stops the search at one place. The text of the library names the place.
fn walk_fault(error: &ignore::Error) -> String {
    match error {
        ignore::Error::WithPath { path, err } => match err.io_error() {
            Some(error) => format!("{}: {}", shown(path), in_words(error)),
            None => format!("{}: {err}", shown(path)),
        },
        ignore::Error::WithDepth { err, .. } => walk_fault(err),
        other => other.to_string(),
    }
}

/// Whether a folder holds a plan file, or something in its place that cannot be read as one and must be reported.
fn is_plan_folder(folder: &Path) -> bool {
    !matches!(
        what_is(&folder.join(PLAN_FILE)),
        Err(_) | Ok(There::Nothing | There::Folder)
    )
}

/// The last name of a path; of the place it leads to where it ends in `.` or `..`.
fn own_name(path: &Path, last: impl Fn(&Path) -> Option<PathBuf>) -> Option<PathBuf> {
    last(path).or_else(|| last(&fs::canonicalize(path).ok()?))
}

/// A relative path as the name of a plan, which becomes a folder on every system.
fn plan_name(path: &Path) -> Result<String, &'static str> {
    let mut names = Vec::new();
    for name in path {
        let name = name.to_str().ok_or("its name is not UTF-8")?;
        if name.starts_with(".jigless") {
            return Err("names that start with `.jigless` are taken");
        }
        names.push(name);
    }
    let name = names.join("/");
    check_relative(&name).map(|()| name)
}

fn is_yaml(path: &Path) -> bool {
    path.extension()
        .is_some_and(|extension| extension == "yaml" || extension == "yml")
}

/// Whether a line of a file starts with the key that marks a plan.
fn has_mark(path: &Path) -> std::io::Result<bool> {
    let mut reader = BufReader::new(fs::File::open(path)?).take(MAX_FILE_BYTES as u64);
    let mut line = Vec::new();
    while reader.read_until(b'\n', &mut line)? > 0 {
        let text = line.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&line);
        for key in [&b"jigless"[..], b"\"jigless\"", b"'jigless'"] {
            if let Some(rest) = text.strip_prefix(key)
                && rest.trim_ascii_start().starts_with(b":")
            {
                return Ok(true);
            }
        }
        line.clear();
    }
    Ok(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn library() -> tempfile::TempDir {
        let root = tempfile::tempdir().unwrap();
        let file = |path: &str, text: &str| {
            let path = root.path().join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        };
        file("kiln/shelf/plan.yaml", "jigless: 1\n");
        file("kiln/shelf/tray.yaml", "jigless: 1\n");
        file("kiln/cart.yml", "# a cart\njigless: 1\n");
        file("kiln/notes.yaml", "title: none\n  jigless: 1\n");
        file("jars.yaml", "'jigless' : 1\n");
        file(".hidden/plan.yaml", "jigless: 1\n");
        file(".gitignore", "/drafts\n*.old.yaml\n!kept.old.yaml\n");
        file("drafts/box.yaml", "jigless: 1\n");
        file("kiln/shelf.old.yaml", "jigless: 1\n");
        file("kiln/kept.old.yaml", "jigless: 1\n");
        file("kiln/.gitignore", "wip/\n");
        file("kiln/wip/plan.yaml", "jigless: 1\n");
        file("made/manifest.json", r#"{"jigless_manifest": 1}"#);
        file("made/old.yaml", "jigless: 1\n");
        file("foreign/manifest.json", r#"{"name": "a web page"}"#);
        file("foreign/box.yaml", "jigless: 1\n");
        file("out/late.yaml", "jigless: 1\n");
        root
    }

    fn names(found: &Found) -> Vec<&str> {
        found.plans.iter().map(|plan| plan.name.as_str()).collect()
    }

    #[test]
    fn a_folder_is_searched_for_plans_in_a_stable_order() {
        let root = library();
        let out = root.path().join("out");
        let found = find(&[root.path().to_owned()], Some(&out));
        assert_eq!(found.problems, []);
        assert_eq!(
            names(&found),
            [
                "foreign/box",
                "jars",
                "kiln/cart",
                "kiln/kept.old",
                "kiln/shelf"
            ]
        );
    }

    #[test]
    fn a_plan_is_named_after_its_folder_or_file() {
        let root = library();
        let at = |path: &str| root.path().join(path);
        let found = find(
            &[
                at("kiln/shelf"),
                at("kiln/shelf/plan.yaml"),
                at("kiln/shelf/."),
                at("kiln/../jars.yaml"),
                at("kiln/shelf/../shelf"),
            ],
            None,
        );
        assert_eq!(found.problems, []);
        assert_eq!(names(&found), ["shelf", "jars"]);
    }

    #[test]
    fn a_path_with_nothing_in_it_says_what_was_looked_for() {
        let root = tempfile::tempdir().unwrap();
        let found = find(&[root.path().to_owned(), root.path().join("none")], None);
        assert!(found.plans.is_empty());
        assert_eq!(found.problems.len(), 2);
        assert!(
            found.problems[0]
                .fix
                .as_ref()
                .unwrap()
                .contains("plan.yaml")
        );
        assert!(found.problems[1].message.contains("no such file"));
    }

    #[test]
    fn a_name_of_dots_never_becomes_a_folder() {
        let root = tempfile::tempdir().unwrap();
        let file = root.path().join("...yaml");
        fs::write(&file, "jigless: 1\n").unwrap();
        let found = find(&[file], None);
        assert!(found.plans.is_empty(), "{:?}", found.plans);
        assert_eq!(found.problems[0].exit, Exit::Faulty);
    }

    #[test]
    fn names_that_some_system_cannot_hold_are_refused() {
        for name in ["CON", "aux.old", "a b.", ".jigless.lock"] {
            assert!(plan_name(Path::new(name)).is_err(), "{name}");
        }
        #[cfg(unix)]
        for name in ["a:b", "a\u{202e}b", "a\nb"] {
            let root = tempfile::tempdir().unwrap();
            let folder = root.path().join("lib").join(name);
            fs::create_dir_all(&folder).unwrap();
            fs::write(folder.join(PLAN_FILE), "jigless: 1\n").unwrap();
            for path in [folder, root.path().join("lib")] {
                let found = find(&[path], None);
                assert!(found.plans.is_empty(), "{:?}", found.plans);
                assert_eq!(found.problems[0].exit, Exit::Faulty, "{name}");
            }
        }
        assert_eq!(
            plan_name(Path::new("k\u{fc}che/jar shelf")).unwrap(),
            "k\u{fc}che/jar shelf"
        );
    }

    #[cfg(unix)]
    #[test]
    fn a_plan_file_that_is_a_link_out_of_the_named_folder_is_refused() {
        use std::os::unix::fs::symlink;
        let away = tempfile::tempdir().unwrap();
        let secret = away.path().join("secret.yaml");
        fs::write(&secret, "jigless: 1\n").unwrap();
        let root = library();
        fs::create_dir(root.path().join("pots")).unwrap();
        symlink(&secret, root.path().join("pots/plan.yaml")).unwrap();
        for path in ["pots", "pots/plan.yaml", "."] {
            let found = find(&[root.path().join(path)], None);
            let refused: Vec<_> = found.problems.iter().map(|p| p.message.as_str()).collect();
            assert_eq!(refused.len(), 1, "{path}: {refused:?}");
            assert!(refused[0].contains("leads out of"), "{refused:?}");
        }
        // Within the library a link is as good as the file.
        fs::remove_file(root.path().join("pots/plan.yaml")).unwrap();
        symlink("../jars.yaml", root.path().join("pots/plan.yaml")).unwrap();
        let found = find(&[root.path().to_owned()], None);
        assert_eq!(found.problems, []);
        assert!(names(&found).contains(&"pots"));
    }

    #[cfg(unix)]
    #[test]
    fn a_name_that_is_not_text_is_reported_and_the_rest_is_found() {
        use std::ffi::OsStr;
        use std::os::unix::ffi::OsStrExt;
        let root = library();
        let odd = root.path().join(OsStr::from_bytes(b"k\xffln.yaml"));
        fs::write(odd, "jigless: 1\n").unwrap();
        let found = find(&[root.path().to_owned()], None);
        assert_eq!(found.problems.len(), 1);
        assert!(found.problems[0].message.contains("UTF-8"));
        assert_eq!(found.plans.len(), 6);
    }

    #[test]
    fn plans_that_would_share_a_folder_are_refused() {
        let plan = |name: &str| PlanAt {
            name: name.to_owned(),
            file: format!("{name}.yaml").into(),
        };
        let apart = [plan("a"), plan("b"), plan("a/b"), plan("a/lists")];
        assert_eq!(check_apart(&apart, &["list"]), []);
        assert_eq!(check_apart(&[plan("a"), plan("A")], &[]).len(), 1);
        let twins = [plan("k\u{fc}che"), plan("ku\u{308}che")];
        assert_eq!(check_apart(&twins, &[]).len(), 1);
        assert_eq!(
            check_apart(&[plan("a"), plan("a/manifest.json")], &[]).len(),
            1
        );
        assert_eq!(check_apart(&apart, &["lists"]).len(), 1);
    }
}
