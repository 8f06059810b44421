//! Text to a tree in which every value knows its place. It knows nothing of lengths or geometry.

mod include;
mod node;
mod parse;

pub use include::{IncludeReader, NoIncludes, check_include_path};
pub use node::{Entry, Node, Scalar, Value};
pub use parse::{MAX_FILE_BYTES, parse};

use jigless_model::diag::{Finding, Findings};
use jigless_model::source::Sources;

use crate::codes;

/// A plan file and what it includes, as trees.
#[derive(Debug, Clone)]
pub struct Tree {
    /// The plan file itself.
    pub main: Node,
    /// The included files, in order.
    pub included: Vec<Node>,
}

/// The most bytes that a plan and all that it includes may have together.
const MAX_ALL_BYTES: usize = 48 * 1024 * 1024;

/// The most files that one plan may include.
const MAX_INCLUDES: usize = 100;

/// Reads a plan file and what it includes.
///
/// `name` is the path of the plan file as the user would write it; the names of included files are shown beside it.
/// The tree is `None` when the plan file itself cannot be read.
pub fn load(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
) -> (Sources, Option<Tree>, Findings) {
    let mut sources = Sources::default();
    let mut findings = Findings::new();
    let main = match parse(&mut sources, name, bytes) {
        Ok(main) => main,
        Err(faults) => return (sources, None, faults),
    };
    let folder = match name.rfind('/') {
        Some(slash) => &name[..=slash],
        None => "",
    };
    let mut included = Vec::new();
    let mut total = bytes.len();
    for (path, span) in include_paths(&main, &mut findings) {
        let shown = format!("{folder}{path}");
        let refuse = |code, reason: String| {
            Finding::error(
                code,
                span,
                format!("cannot include `{}`: {reason}", path.escape_debug()),
            )
            .fix("name a file in the plan's folder or below it")
        };
        if shown == name {
            findings.push(
                Finding::error(codes::BAD_INCLUDE, span, "the plan includes itself")
                    .fix("take it off the list"),
            );
            continue;
        }
        if let Err(reason) = check_include_path(&path) {
            findings.push(refuse(codes::BAD_INCLUDE, reason.to_owned()));
            continue;
        }
        match includes.read(&path) {
            Err(reason) => findings.push(refuse(codes::BAD_INCLUDE, reason)),
            Ok(bytes) if total + bytes.len() > MAX_ALL_BYTES => {
                findings.push(
                    Finding::error(
                        codes::TOO_MUCH_YAML,
                        span,
                        format!(
                            "with this file the plan has more than {MAX_ALL_BYTES} bytes ({} MB), and no more than that is read",
                            MAX_ALL_BYTES >> 20
                        ),
                    )
                    .fix("divide it into several plans"),
                );
                break;
            }
            Ok(bytes) => {
                total += bytes.len();
                match parse(&mut sources, &shown, &bytes) {
                    Ok(node) => included.push(node),
                    Err(faults) => findings.extend(faults),
                }
            }
        }
    }
    (sources, Some(Tree { main, included }), findings)
}

fn include_paths(
    main: &Node,
    findings: &mut Findings,
) -> Vec<(String, jigless_model::source::Span)> {
    let Some(node) = main.get("include") else {
        return Vec::new();
    };
    let mut wrong = |node: &Node| {
        findings.push(
            Finding::error(
                codes::WRONG_KIND,
                node.span,
                format!("`include` has {} here", node.kind()),
            )
            .fix("write a list of files: `[tray.yaml]`"),
        );
    };
    let Value::List(items) = &node.value else {
        wrong(node);
        return Vec::new();
    };
    let mut paths: Vec<(String, jigless_model::source::Span)> = Vec::new();
    for item in items {
        match item.scalar() {
            Some(scalar) => paths.push((scalar.text.clone(), item.span)),
            None => wrong(item),
        }
    }
    if paths.len() > MAX_INCLUDES {
        findings.push(
            Finding::error(
                codes::TOO_MANY_INCLUDES,
                node.span,
                format!(
                    "{} files are included; {MAX_INCLUDES} are allowed",
                    paths.len()
                ),
            )
            .fix("join some of them"),
        );
        paths.clear();
    }
    for index in 1..paths.len() {
        if let Some((_, first)) = paths[..index]
            .iter()
            .find(|(path, _)| *path == paths[index].0)
        {
            findings.push(
                Finding::error(
                    codes::DUPLICATE_INCLUDE,
                    paths[index].1,
                    format!("`{}` is included twice", paths[index].0),
                )
                .label(*first, "first included here")
                .fix("keep one of them"),
            );
        }
    }
    paths
}
