//! The core of Jigless: from a plan in YAML to exact work on each part, checked and ready for the formats.
//!
//! One route, each stage with plain data between:
//!
//! ```text
//! plan.yaml -> load -> resolve -> lower -> check -> [arrange] -> export
//!              tree     Plan     Workpiece findings   sheets    Artifact
//! ```
//!
//! The stages are crates, each of which sees the model and nothing of its neighbours:
//!
//! - `jigless-model` holds the plain data, the exact geometry and the contract of the formats.
//! - `jigless-language` reads: text to [`plan::Plan`] and [`workpiece::Workpiece`].
//! - `jigless-check` looks for what cannot be built.
//! - `jigless-layout` arranges parts on sheets.
//!
//! [`compile()`] runs the stages. This crate hands on what they hold under one name. Nothing here touches a disk, a clock
//! or a terminal: the same text gives the same result on every machine.

pub mod compare;
pub mod compile;
pub mod schema;

pub use compile::{Compiled, compile, compile_changed, compile_with};
pub use jigless_language::{
    adapt, build, feature, fields, length, load, lower, migrate, renamed, resolve, rewrite, swap,
};
pub use jigless_model::{
    caution, code, codes, costs, diag, export, fact, finish, frame, geom, hardware, mark,
    operation, plan, provenance, side, source, units, view, whole, words, workpiece,
};

/// Parts on sheets: what is asked for, what comes of it, and what arranges them.
pub mod arrange {
    pub use jigless_layout::*;
    pub use jigless_model::sheets::*;
}

/// The order of work.
pub use jigless_steps as steps;

/// What the parts do together, and the entries of `usage:` that say so.
pub mod usage {
    pub use jigless_language::usage::*;
    pub use jigless_model::usage::*;
}

/// Checks, and the codes of faults that are none.
pub mod check {
    pub use jigless_check::*;
    pub use jigless_model::check::*;

    /// Codes of faults of the text and of single features.
    pub mod codes {
        pub use jigless_language::codes::*;
        pub use jigless_model::code::CodeKind;
    }
}

/// What holds parts together, and the kinds of it.
pub mod joint {
    pub use jigless_language::joint::*;
    pub use jigless_model::joint::*;
}
