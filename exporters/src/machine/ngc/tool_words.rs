//! A tool in words.

use jigless_model::units::{Unit, decimal};

use super::vet;
use crate::machine::tool::{Tool, ToolKind};

/// `T2: mill of 6 mm, 18000 turns a minute, feed 2000 mm and plunge 500 mm a minute`.
pub(super) fn tool_words(tool: &Tool, number: u32, unit: Unit) -> String {
    let rate = |feed: Option<f64>| feed.map_or_else(|| "none".to_owned(), |feed| unit.show(feed));
    let speed = tool.speed.unwrap_or(0.0);
    let chips = match (tool.feed, tool.flutes) {
        (Some(feed), Some(flutes)) if flutes > 0 && speed > 0.0 => {
            let chip = feed / speed / f64::from(flutes);
            format!(", chip load {} mm", decimal(chip, 3))
        }
        _ => String::new(),
    };
    let feed = match tool.kind {
        ToolKind::Mill => format!("feed {} and ", rate(tool.feed)),
        ToolKind::Drill | ToolKind::Countersink => String::new(),
    };
    format!(
        "T{number}: {} of {}, {} turns a minute, {feed}plunge {} a minute{chips}",
        vet::kind(tool),
        unit.show(tool.diameter),
        decimal(speed, 0),
        rate(tool.plunge),
    )
}
