//! The plans under `fixtures/`.

use std::path::{Path, PathBuf};

/// The top folder of the workspace.
///
/// # Panics
/// Never in a checkout: this crate is one level below it.
pub fn workspace() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.parent().expect("the crate has a parent").to_owned()
}

/// A path below `fixtures/`.
pub fn fixture(path: &str) -> PathBuf {
    workspace().join("fixtures").join(path)
}

/// Every plan folder without a fault, as paths below `fixtures/`, in a fixed order.
///
/// # Panics
/// When the fixtures cannot be read.
pub fn sound_plans() -> Vec<String> {
    let mut plans = ["glaze-cabinet", "thread-organiser", "glazing-trolley"]
        .map(str::to_owned)
        .to_vec();
    plans.push("by-joints/lapped-organiser".to_owned());
    plans.extend(machining_plans());
    for below in ["features", "tutorial", "recipes", "paper"] {
        let names = folders(below).into_iter();
        plans.extend(names.map(|name| format!("{below}/{name}")));
    }
    plans
}

/// The plans that try what machines can do.
///
/// # Panics
/// When the fixtures cannot be read.
pub fn machining_plans() -> Vec<String> {
    let names = folders("machining").into_iter();
    names.map(|name| format!("machining/{name}")).collect()
}

/// Every faulty plan folder, as names below `fixtures/faulty/`, in a fixed order.
///
/// # Panics
/// When the fixtures cannot be read.
pub fn faulty_plans() -> Vec<String> {
    folders("faulty")
}

fn folders(below: &str) -> Vec<String> {
    let folder = fixture(below);
    let entries = std::fs::read_dir(&folder)
        .unwrap_or_else(|error| panic!("cannot read {}: {error}", folder.display()));
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("a readable entry"))
        .filter(|entry| entry.path().join("plan.yaml").is_file())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert!(!names.is_empty(), "no plans in {}", folder.display());
    names
}

/// All files below a folder with their bytes, by path with `/` between names, in order of path.
///
/// # Panics
/// When something cannot be read.
pub fn tree(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files = Vec::new();
    let mut waiting = vec![folder.to_owned()];
    while let Some(current) = waiting.pop() {
        let entries = std::fs::read_dir(&current)
            .unwrap_or_else(|error| panic!("cannot read {}: {error}", current.display()));
        for entry in entries {
            let path = entry.expect("a readable entry").path();
            if path.is_dir() {
                waiting.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("a path below the folder");
                let name = name.to_string_lossy().replace('\\', "/");
                files.push((name, std::fs::read(&path).expect("a readable file")));
            }
        }
    }
    files.sort();
    files
}

/// Copies every file of a folder into another one.
///
/// # Panics
/// When one of them cannot be read or written.
pub fn copy_tree(from: &Path, to: &Path) {
    for (name, bytes) in tree(from) {
        let file = to.join(name);
        std::fs::create_dir_all(file.parent().expect("a folder")).expect("a folder");
        std::fs::write(file, bytes).expect("a written file");
    }
}

/// The files of [`tree`] whose names end in an extension, written without a dot.
///
/// # Panics
/// As [`tree`].
pub fn files_of(folder: &Path, extension: &str) -> Vec<(String, Vec<u8>)> {
    let of_kind = |name: &str| {
        Path::new(name)
            .extension()
            .is_some_and(|own| own == extension)
    };
    let mut files = tree(folder);
    files.retain(|(name, _)| of_kind(name));
    files
}
