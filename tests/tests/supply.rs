//! What is made by others: licences, crates in two versions and build scripts are those that `.ci/deny.toml` lists, and
//! the contributors' guide says why each crate that is asked for is there. In our own code there is no `unsafe`.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::process::Command;
use std::sync::LazyLock;

use jigless_tests::fixtures::{files_of, workspace};
use serde_json::Value;
use spdx::{Expression, LicenseItem, ParseMode};

static ALLOWED: LazyLock<toml::Table> = LazyLock::new(|| {
    let text = fs::read_to_string(workspace().join(".ci/deny.toml")).expect(".ci/deny.toml");
    text.parse().expect("TOML")
});

fn words(list: &toml::Value) -> BTreeSet<&str> {
    let items = list.as_array().expect("a list").iter();
    items.map(|item| item.as_str().expect("a text")).collect()
}

/// What cargo knows of the packages for this platform.
static METADATA: LazyLock<Value> = LazyLock::new(|| {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(["--filter-platform", env!("JIGLESS_TARGET")])
        .current_dir(workspace())
        .output()
        .expect("cargo starts");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
    serde_json::from_slice(&output.stdout).expect("JSON")
});

fn packages() -> impl Iterator<Item = &'static Value> {
    METADATA["packages"].as_array().expect("packages").iter()
}

/// Those that come from a registry.
fn of_others() -> impl Iterator<Item = &'static Value> {
    packages().filter(|package| package["source"].is_string())
}

fn text(value: &Value) -> &str {
    value.as_str().expect("a text")
}

#[test]
fn every_licence_is_allowed() {
    let allowed = words(&ALLOWED["licenses"]["allow"]);
    for package in of_others() {
        let (name, licence) = (&package["name"], &package["license"]);
        let licence = licence
            .as_str()
            .unwrap_or_else(|| panic!("{name} has no licence"));
        let expression = Expression::parse_mode(licence, ParseMode::LAX)
            .unwrap_or_else(|error| panic!("{name}: {error}"));
        let may_be_used = expression.evaluate(|asked| match &asked.license {
            LicenseItem::Spdx { id, .. } => asked.addition.is_none() && allowed.contains(id.name),
            LicenseItem::Other { .. } => false,
        });
        assert!(may_be_used, "{name}: {licence}");
    }
}

#[test]
fn only_listed_crates_run_programs_when_built() {
    let allowed = words(&ALLOWED["bans"]["build"]["allow-build-scripts"]);
    let has_script = |package: &&Value| {
        let targets = package["targets"].as_array().expect("targets").iter();
        let mut kinds = targets.flat_map(|target| target["kind"].as_array().expect("kinds"));
        kinds.any(|kind| kind == "custom-build")
    };
    let with_script: BTreeSet<&str> = of_others()
        .filter(has_script)
        .map(|package| text(&package["name"]))
        .collect();
    let more: Vec<&&str> = with_script.difference(&allowed).collect();
    assert!(more.is_empty(), "not listed: {more:?}");
    // The list is that of the platform on which it was last looked through.
    if env!("JIGLESS_TARGET") == "x86_64-unknown-linux-gnu" {
        assert_eq!(with_script, allowed);
    }
}

/// On all platforms, as the lock file has them. Of each crate one version may be there without being listed.
#[test]
fn only_listed_crates_are_there_in_two_versions() {
    let lock = fs::read_to_string(workspace().join("Cargo.lock")).expect("Cargo.lock");
    let lock: toml::Table = lock.parse().expect("TOML");
    let mut versions: BTreeMap<&str, BTreeSet<String>> = BTreeMap::new();
    for package in lock["package"].as_array().expect("packages") {
        let (name, version) = (package["name"].as_str(), package["version"].as_str());
        let (name, version) = (name.expect("a name"), version.expect("a version"));
        let crate_ = format!("{name}@{version}");
        versions.entry(name).or_default().insert(crate_);
    }
    versions.retain(|_, versions| versions.len() > 1);
    let mut twice: BTreeSet<String> = versions.into_values().flatten().collect();
    for skipped in ALLOWED["bans"]["skip"].as_array().expect("a list") {
        let crate_ = skipped["crate"].as_str().expect("a text");
        assert!(
            twice.remove(crate_),
            "{crate_} is not there in two versions"
        );
    }
    let mut left = BTreeSet::new();
    for crate_ in &twice {
        let name = crate_.split('@').next();
        assert!(left.insert(name), "in two versions: {twice:?}");
    }
}

/// `core`, `exporters`, `cli` or `tests`, from the path of a package.
fn place_of(package: &Value) -> String {
    let manifest = text(&package["manifest_path"]).replace('\\', "/");
    let root = workspace().to_string_lossy().replace('\\', "/");
    let path = manifest.strip_prefix(&root).expect("a path of ours");
    path.split('/').nth(1).expect("a folder").to_owned()
}

#[test]
fn the_guide_says_why_each_crate_is_there() {
    let mut asked: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for package in packages().filter(|package| package["source"].is_null()) {
        for needed in package["dependencies"].as_array().expect("a list") {
            if needed["source"].is_string() {
                let places = asked.entry(text(&needed["name"]).to_owned()).or_default();
                places.insert(place_of(package));
            }
        }
    }
    let guide = fs::read_to_string(workspace().join("DEVELOPERS.md")).expect("the guide");
    let (_, table) = guide
        .split_once("| crate | where | why |")
        .expect("a table");
    let (table, _) = table.split_once("\n\n").expect("its end");
    let mut reported: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for row in table.lines().filter(|row| row.starts_with("| `")) {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let places: BTreeSet<String> = cells[1].split(", ").map(str::to_owned).collect();
        for name in cells[0].split(", ") {
            reported.insert(name.trim_matches('`').to_owned(), places.clone());
        }
    }
    for (name, places) in &asked {
        assert_eq!(reported.remove(name).as_ref(), Some(places), "{name}");
    }
    assert!(reported.is_empty(), "not asked for any more: {reported:?}");
}

#[test]
fn nothing_of_ours_is_unsafe() {
    for folder in ["core", "exporters", "cli", "tests"] {
        for (name, bytes) in files_of(&workspace().join(folder), "rs") {
            if name.starts_with("fuzz/target/") {
                continue;
            }
            let text = String::from_utf8(bytes).expect("UTF-8");
            let code = text
                .lines()
                .map(|line| line.split("//").next().unwrap_or_default());
            let word = concat!("unsa", "fe");
            let found =
                code.flat_map(|line| line.split(|c: char| !c.is_alphanumeric() && c != '_'));
            assert!(!found.into_iter().any(|it| it == word), "{folder}/{name}");
        }
    }
    // The compiler says so, too.
    for package in packages().filter(|package| package["source"].is_null()) {
        let manifest = text(&package["manifest_path"]);
        let manifest = fs::read_to_string(manifest).expect("a manifest");
        assert!(
            manifest.contains("[lints]\nworkspace = true"),
            "{}",
            package["name"]
        );
    }
    let root = fs::read_to_string(workspace().join("Cargo.toml")).expect("a manifest");
    assert!(root.contains("unsafe_code = \"forbid\""));
}
