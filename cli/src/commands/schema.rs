//! `jigless schema`: the plan language for editors.

use jigless_core::feature::Registry;

use crate::console::Console;
use crate::exit::Exit;

/// Prints the JSON Schema of plan files.
pub fn run(console: &mut Console) -> Exit {
    console.document(&text());
    Exit::Done
}

/// The schema as text.
pub fn text() -> String {
    let schema = jigless_core::schema::schema(&Registry::new());
    format!("{schema:#}\n")
}
