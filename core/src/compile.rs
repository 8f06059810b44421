//! The stages in their order, from bytes to workpieces.

use std::convert::Infallible;

use jigless_check::{catalogue, check};
use jigless_language::feature::Registry;
use jigless_language::load::{IncludeReader, Tree, load};
use jigless_language::lower::lower;
use jigless_language::photographs;
use jigless_language::resolve::resolve;
use jigless_model::diag::Findings;
use jigless_model::plan::Plan;
use jigless_model::source::Sources;
use jigless_model::workpiece::Workpiece;

/// A plan that has gone through all stages before the exporters.
#[derive(Debug)]
pub struct Compiled {
    /// The texts that it was read from; findings point into them.
    pub sources: Sources,
    /// Everything that was found.
    pub findings: Findings,
    /// The plan and its parts, ready to be exported; `None` when a finding is an error.
    pub result: Option<(Plan, Vec<Workpiece>)>,
    /// The plan where it was read and its parts can be made, and only checks refuse it: to be looked at, not exported.
    pub refused: Option<Plan>,
}

/// Reads a plan file and everything it includes, and checks it.
///
/// `name` is the path as the user would write it, for messages. What is wrong is reported all at once, as far as one
/// mistake does not hide another.
pub fn compile(name: &str, bytes: &[u8], includes: &dyn IncludeReader) -> Compiled {
    compile_with(name, bytes, includes, &Registry::new())
}

/// [`compile`] with a choice of features.
pub fn compile_with(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    registry: &Registry,
) -> Compiled {
    let Ok(compiled) = compile_tree(name, bytes, includes, registry, |_, _| {
        Ok::<(), Infallible>(())
    });
    compiled
}

/// [`compile`] of a plan that is changed once it is read; what does not come to a tree is reported as it is.
///
/// # Errors
/// That of the change.
pub fn compile_changed<E>(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    change: impl FnOnce(&mut Sources, &mut Tree) -> Result<(), E>,
) -> Result<Compiled, E> {
    compile_tree(name, bytes, includes, &Registry::new(), change)
}

fn compile_tree<E>(
    name: &str,
    bytes: &[u8],
    includes: &dyn IncludeReader,
    registry: &Registry,
    change: impl FnOnce(&mut Sources, &mut Tree) -> Result<(), E>,
) -> Result<Compiled, E> {
    let (mut sources, mut tree, mut findings) = load(name, bytes, includes);
    if let Some(tree) = &mut tree {
        change(&mut sources, tree)?;
    }
    let (mut result, mut readable) = (None, false);
    if let (Some(tree), false) = (tree, findings.has_errors()) {
        let (plan, found) = resolve(&sources, &tree, registry, &catalogue());
        findings.extend(found);
        if let Some(mut plan) = plan {
            findings.extend(photographs::read(&mut plan, includes));
            // Also after errors: what could be read may have faults of its own, and all are reported in one run.
            let (workpieces, found) = lower(&plan);
            findings.extend(found);
            readable = !findings.has_errors();
            if readable {
                findings.extend(check(&plan, &workpieces));
                findings.extend(jigless_steps::vet(&plan, &workpieces));
            }
            result = Some((plan, workpieces));
        }
    }
    let mut refused = None;
    if findings.has_errors() {
        let plan = result.take().map(|(plan, _)| plan);
        refused = plan.filter(|_| readable);
    }
    Ok(Compiled {
        sources,
        findings,
        result,
        refused,
    })
}
