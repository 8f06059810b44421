//! Which module imports which: every path is followed through what is handed on (`pub use`) to the module that declares
//! the name. A module that only hands a name on does not import it; one that uses the name itself does.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use super::source::Source;

/// A module: the name of its crate, and the names of the modules that lead to it.
pub type Module = Vec<String>;

/// The modules of some crates and their imports.
#[derive(Debug, Default)]
pub struct Graph {
    sources: BTreeMap<Module, Source>,
}

impl Graph {
    /// Reads crates: the name of each as paths have it, and the folder of its sources.
    ///
    /// # Panics
    /// When a folder cannot be read.
    pub fn read<'a>(crates: impl IntoIterator<Item = (&'a str, &'a Path)>) -> Self {
        let mut graph = Self::default();
        for (name, folder) in crates {
            graph.add_folder(&vec![name.to_owned()], folder);
        }
        graph.drop_tests();
        graph
    }

    fn add_folder(&mut self, module: &Module, folder: &Path) {
        let entries = std::fs::read_dir(folder).expect("a folder of sources");
        for entry in entries {
            let path = entry.expect("an entry of a folder").path();
            let stem = path
                .file_stem()
                .map(|stem| stem.to_string_lossy().into_owned());
            let stem = stem.unwrap_or_default();
            let mut own = module.clone();
            if path.is_dir() {
                own.push(stem);
                self.add_folder(&own, &path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                if !matches!(stem.as_str(), "mod" | "lib" | "main") {
                    own.push(stem);
                }
                let text = std::fs::read_to_string(&path).expect("a source file");
                self.add(own, Source::read(&text));
            }
        }
    }

    /// Adds a module with those that are written out within it.
    pub fn add(&mut self, module: Module, mut source: Source) {
        for (name, inner) in std::mem::take(&mut source.inner) {
            let mut below = module.clone();
            below.push(name);
            self.add(below, inner);
        }
        self.sources.insert(module, source);
    }

    /// Drops the files of modules that are only compiled for tests.
    fn drop_tests(&mut self) {
        let for_tests: Vec<Module> = self
            .sources
            .iter()
            .flat_map(|(module, source)| source.for_tests.iter().map(|name| below(module, name)))
            .collect();
        self.sources
            .retain(|module, _| !for_tests.iter().any(|tests| module.starts_with(tests)));
    }

    /// Every module.
    pub fn modules(&self) -> impl Iterator<Item = &Module> {
        self.sources.keys()
    }

    /// Every path that a module names or imports, as it is written.
    pub fn paths(&self, module: &Module) -> impl Iterator<Item = &Vec<String>> {
        let source = self.sources.get(module);
        source.into_iter().flat_map(|source| {
            source
                .paths
                .iter()
                .chain(source.uses.iter().map(|u| &u.path))
        })
    }

    /// The modules that a module imports.
    pub fn imports(&self, module: &Module) -> BTreeSet<&Module> {
        let Some(source) = self.sources.get(module) else {
            return BTreeSet::new();
        };
        let mut found = BTreeSet::new();
        for used in &source.uses {
            let alive = !used.public
                || used
                    .name
                    .as_ref()
                    .is_some_and(|name| source.words.contains(name));
            let Some((target, rest)) = self.lookup(module, &used.path).filter(|_| alive) else {
                continue;
            };
            // The name of a module alone imports nothing of it: what is used of it is a path further on.
            if !rest.is_empty() || used.name.is_none() {
                found.insert(target);
            }
        }
        for path in &source.paths {
            found.extend(self.lookup(module, path).map(|(target, _)| target));
        }
        found.remove(module);
        found
    }

    /// The module that declares what a path names, and what of the path is left there; `None` for other crates' names.
    fn lookup(&self, from: &Module, path: &[String]) -> Option<(&Module, Vec<String>)> {
        let (base, rest) = self.start(from, path)?;
        self.follow(&base, rest.to_vec(), &mut BTreeSet::new())
    }

    /// The module that a path sets out from.
    fn start<'a>(&self, from: &Module, path: &'a [String]) -> Option<(Module, &'a [String])> {
        let (first, rest) = path.split_first()?;
        if first == "crate" {
            return Some((vec![from[0].clone()], rest));
        }
        if first == "self" || first == "super" {
            let ups = path.iter().filter(|step| *step == "super").count();
            let base = from[..from.len().checked_sub(ups)?].to_vec();
            let steps = path
                .iter()
                .take_while(|step| *step == "self" || *step == "super");
            return Some((base, &path[steps.count()..]));
        }
        if self.sources.contains_key(&vec![first.clone()]) {
            return Some((vec![first.clone()], rest));
        }
        let source = self.sources.get(from)?;
        let known = self.sources.contains_key(&below(from, first))
            || source
                .uses
                .iter()
                .any(|used| used.name.as_ref() == Some(first));
        // A path through a type that was imported leads to the same module as the import.
        known.then(|| (from.clone(), path))
    }

    fn follow(
        &self,
        base: &Module,
        path: Vec<String>,
        seen: &mut BTreeSet<(Module, Vec<String>)>,
    ) -> Option<(&Module, Vec<String>)> {
        let (here, source) = self.sources.get_key_value(base)?;
        let Some((first, rest)) = path.split_first() else {
            return Some((here, path));
        };
        if !seen.insert((base.clone(), path.clone())) {
            return None;
        }
        let child = below(base, first);
        if self.sources.contains_key(&child) {
            return self.follow(&child, rest.to_vec(), seen);
        }
        if source.items.contains(first) {
            return Some((here, path));
        }
        for used in &source.uses {
            let through = match &used.name {
                Some(name) if name == first => rest,
                None => &path,
                Some(_) => continue,
            };
            // In another crate, or a name that leads round in a circle.
            let Some((next, left)) = self.start(here, &used.path) else {
                continue;
            };
            let further = left.iter().chain(through).cloned().collect();
            let found = self.follow(&next, further, seen);
            let declared = |(module, left): &(&Module, Vec<String>)| {
                used.name.is_some()
                    || left
                        .first()
                        .is_none_or(|name| self.sources[*module].items.contains(name))
            };
            if let Some(found) = found.filter(declared) {
                return Some(found);
            }
        }
        Some((here, path))
    }

    /// Every group of modules that import one another: each member in order, with what it imports of the others.
    pub fn circles(&self) -> Vec<Vec<(&Module, Vec<&Module>)>> {
        let imports: BTreeMap<&Module, BTreeSet<&Module>> = self
            .modules()
            .map(|module| (module, self.imports(module)))
            .collect();
        let reach: BTreeMap<&Module, BTreeSet<&Module>> = imports
            .keys()
            .map(|module| (*module, reach(&imports, module)))
            .collect();
        let mut circles = Vec::new();
        for (module, reached) in &reach {
            let back = |other: &&&Module| reach[**other].contains(module);
            let members: Vec<&Module> = reached.iter().filter(back).copied().collect();
            // Each circle once, at its first member.
            if members.first() != Some(module) {
                continue;
            }
            let within = |member: &&Module| {
                let others = imports[*member]
                    .iter()
                    .filter(|other| members.contains(other));
                others.copied().collect()
            };
            circles.push(
                members
                    .iter()
                    .map(|member| (*member, within(member)))
                    .collect(),
            );
        }
        circles
    }
}

/// Everything that a module imports, straight or through others.
fn reach<'a>(
    imports: &BTreeMap<&'a Module, BTreeSet<&'a Module>>,
    module: &Module,
) -> BTreeSet<&'a Module> {
    let mut reached = BTreeSet::new();
    let mut waiting: Vec<&Module> = imports[module].iter().copied().collect();
    while let Some(next) = waiting.pop() {
        if reached.insert(next) {
            waiting.extend(&imports[next]);
        }
    }
    reached
}

fn below(module: &Module, name: &str) -> Module {
    let mut below = module.clone();
    below.push(name.to_owned());
    below
}

#[cfg(test)]
mod tests {
    use super::{Graph, Source};

    fn graph(files: &[(&str, &str)]) -> Graph {
        let mut graph = Graph::default();
        for (name, text) in files {
            let module = name.split("::").map(str::to_owned).collect();
            graph.add(module, Source::read(text));
        }
        graph
    }

    fn circles(files: &[(&str, &str)]) -> Vec<String> {
        let graph = graph(files);
        let circles = graph.circles();
        let names = circles.iter().map(|circle| {
            let names: Vec<String> = circle.iter().map(|(module, _)| module.join("::")).collect();
            names.join(" ")
        });
        names.collect()
    }

    #[test]
    fn a_pair_is_found_by_imports_and_by_paths_in_code() {
        for b in [
            "use crate::a::one; fn two() {}",
            "fn two() { crate::a::one() }",
            "use super::a; fn two() { a::one() }",
            "fn two() { println!(\"{}\", super::a::one()) }",
        ] {
            let found = circles(&[
                ("c", "mod a; mod b;"),
                ("c::a", "use crate::b::two; fn one() {}"),
                ("c::b", b),
            ]);
            assert_eq!(found, ["c::a c::b"], "{b}");
        }
    }

    #[test]
    fn what_is_handed_on_leads_to_where_it_is_declared() {
        let files = |parent: &'static str| {
            [
                ("c", "mod list;"),
                ("c::list", parent),
                ("c::list::kind", "pub struct Kind;"),
                (
                    "c::list::hole",
                    "use super::Kind; pub static HOLE: Kind = Kind;",
                ),
            ]
        };
        // The parent declares the list and hands on the kind.
        let apart =
            "mod kind; mod hole; pub use kind::Kind; static LIST: &[&Kind] = &[&hole::HOLE];";
        assert_eq!(circles(&files(apart)), Vec::<String>::new());
        // The parent declares the kind itself.
        let circle = "mod hole; pub struct Kind; static LIST: &[&Kind] = &[&hole::HOLE];";
        assert_eq!(circles(&files(circle)), ["c::list c::list::hole"]);
        // Handing a name on is no import; to use it is one.
        let own = "mod kind; mod hole; pub use hole::HOLE; pub struct Kind;";
        assert_eq!(circles(&files(own)), Vec::<String>::new());
        let used = "mod kind; mod hole; pub use hole::HOLE; pub struct Kind; fn f() { HOLE; }";
        assert_eq!(circles(&files(used)), ["c::list c::list::hole"]);
    }

    #[test]
    fn names_are_followed_through_other_crates_and_stars() {
        let graph = graph(&[
            (
                "facade",
                "pub use model::{plan}; pub mod all { pub use model::plan::*; }",
            ),
            ("model", "pub mod plan;"),
            ("model::plan", "pub struct Plan;"),
            (
                "user",
                "use facade::plan::Plan; fn f(x: facade::all::Plan, y: std::vec::Vec<u8>) {}",
            ),
        ]);
        let imports = graph.imports(&vec!["user".to_owned()]);
        let names: Vec<String> = imports.iter().map(|module| module.join("::")).collect();
        assert_eq!(names, ["model::plan"]);
    }
}
