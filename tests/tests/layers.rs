//! The layers of the program: which crate may import which, and that no two modules import each other.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::PathBuf;
use std::sync::LazyLock;

use jigless_tests::fixtures::workspace;
use jigless_tests::modules::{Graph, Module};

/// The crates, the folders of their sources, and what each may import.
const CRATES: &[(&str, &str, &[&str])] = &[
    ("jigless_model", "core/model/src", &[]),
    ("jigless_language", "core/language/src", &["jigless_model"]),
    ("jigless_check", "core/check/src", &["jigless_model"]),
    ("jigless_layout", "core/layout/src", &["jigless_model"]),
    ("jigless_solid", "core/solid/src", &["jigless_model"]),
    ("jigless_words", "core/words/src", &["jigless_model"]),
    (
        "jigless_steps",
        "core/steps/src",
        &["jigless_model", "jigless_words"],
    ),
    ("jigless_simulate", "core/simulate/src", &["jigless_model"]),
    (
        "jigless_core",
        "core/src",
        &[
            "jigless_model",
            "jigless_language",
            "jigless_check",
            "jigless_layout",
            "jigless_solid",
            "jigless_steps",
            "jigless_words",
        ],
    ),
    (
        "jigless_exporters",
        "exporters/src",
        &[
            "jigless_model",
            "jigless_simulate",
            "jigless_solid",
            "jigless_steps",
            "jigless_words",
        ],
    ),
    (
        "jigless",
        "cli/src",
        &[
            "jigless_model",
            "jigless_language",
            "jigless_check",
            "jigless_layout",
            "jigless_simulate",
            "jigless_steps",
            "jigless_words",
            "jigless_core",
            "jigless_exporters",
        ],
    ),
];

static GRAPH: LazyLock<Graph> = LazyLock::new(|| {
    let folders: Vec<(&str, PathBuf)> = CRATES
        .iter()
        .map(|(name, folder, _)| (*name, workspace().join(folder)))
        .collect();
    Graph::read(
        folders
            .iter()
            .map(|(name, folder)| (*name, folder.as_path())),
    )
});

/// The circles of some crates, a line for each member with what it imports of the others.
fn circles(crates: &[&str]) -> String {
    let graph = &*GRAPH;
    let mut text = String::new();
    for circle in graph.circles() {
        if !crates.contains(&circle[0].0[0].as_str()) {
            continue;
        }
        text.push_str("these import one another:\n");
        for (module, others) in circle {
            let others: Vec<String> = others.into_iter().map(|other| other.join("::")).collect();
            let _ = writeln!(text, "  {} -> {}", module.join("::"), others.join(", "));
        }
    }
    text
}

#[test]
fn no_two_modules_of_the_core_import_each_other() {
    let core = [
        "jigless_model",
        "jigless_language",
        "jigless_check",
        "jigless_layout",
        "jigless_simulate",
        "jigless_solid",
        "jigless_steps",
        "jigless_words",
        "jigless_core",
    ];
    assert_eq!(circles(&core), "");
}

#[test]
fn no_two_modules_of_the_exporters_import_each_other() {
    assert_eq!(circles(&["jigless_exporters"]), "");
}

#[test]
fn no_two_modules_of_the_command_line_import_each_other() {
    assert_eq!(circles(&["jigless"]), "");
}

#[test]
fn each_crate_imports_only_what_lies_below_it() {
    let graph = &*GRAPH;
    let allowed: BTreeMap<&str, &[&str]> =
        CRATES.iter().map(|(name, _, may)| (*name, *may)).collect();
    let mut wrong = Vec::new();
    for module in graph.modules() {
        let own = module[0].as_str();
        for path in graph.paths(module) {
            let first = path[0].as_str();
            if first != own && allowed.contains_key(first) && !allowed[own].contains(&first) {
                wrong.push(format!("{} names {}", module.join("::"), path.join("::")));
            }
        }
    }
    assert_eq!(wrong, Vec::<String>::new());
}

/// A code is made where codes are declared: by `codes!`, and beside what a check measures.
#[test]
fn codes_are_only_made_where_they_are_declared() {
    let graph = &*GRAPH;
    let makes = |module: &&Module| {
        let mut paths = graph.paths(module);
        paths.any(|path| path.ends_with(&["Code".to_owned(), "declare".to_owned()]))
    };
    let makers: Vec<String> = graph
        .modules()
        .filter(makes)
        .filter(|module| module[0] != "jigless_check")
        .map(|module| module.join("::"))
        .collect();
    assert_eq!(makers, ["jigless_model::code"]);
}
