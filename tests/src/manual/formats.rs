//! The reference of formats and their options.

use std::fmt::Write as _;

use jigless_exporters::EXPORTERS;

use super::keys::cell;
use super::kinds::sentence;

/// Every format with its options.
pub(super) fn formats() -> String {
    let mut text = String::new();
    for exporter in EXPORTERS {
        let _ = writeln!(
            text,
            "## `{}`\n\n{}.\n",
            exporter.id(),
            sentence(exporter.summary())
        );
        let options = exporter.options();
        if options.is_empty() {
            text.push_str("It has no options.\n\n");
            continue;
        }
        text.push_str("| option | accepts | default | what it does |\n|---|---|---|---|\n");
        for option in options {
            let _ = writeln!(
                text,
                "| `{}` | {} | {} | {} |",
                option.key,
                cell(&option.accepts),
                cell(&option.default),
                cell(&option.help)
            );
        }
        text.push('\n');
    }
    text
}
