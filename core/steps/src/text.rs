//! Steps as a text that can be read and ticked off.

use jigless_model::caution::Caution;
use jigless_model::units::Unit;
use jigless_words::ENGLISH;

use crate::step::{Fixing, OrderOfWork};

/// All steps in words, in the unit of the plan: a box to tick before each act.
pub fn in_words(order: &OrderOfWork, unit: Unit) -> String {
    let count = ENGLISH.counted(order.steps.len() as u32, "step", "steps");
    let mut text = format!("{}\nOrder of work, {count}\n\n", order.title);
    for caution in order.cautions {
        write_lines(&mut text, "! ", caution);
    }
    for step in &order.steps {
        let times = if step.times > 1 {
            format!(" (make {} alike)", step.times)
        } else {
            String::new()
        };
        text.push('\n');
        let lead = format!("{}. ", step.number);
        write_lines(
            &mut text,
            &lead,
            &format!("{}{times} [{}]", step.title, step.name),
        );
        if let Some(reason) = &step.reason {
            write_lines(&mut text, "   why now: ", reason);
        }
        let pieces = step.pieces.iter();
        let pieces: Vec<String> = pieces
            .map(|p| format!("{} × {} {}", p.count, p.mark, p.title))
            .collect();
        list(&mut text, "pieces", &pieces);
        let fixings = step.fixings.iter().map(|fixing| in_unit(fixing, unit));
        list(&mut text, "fixings", &fixings.collect::<Vec<_>>());
        list(&mut text, "tools", &step.tools);
        for caution in step
            .cautions
            .iter()
            .filter(|caution| **caution != Caution::Work)
        {
            write_lines(&mut text, "   ! ", caution.text());
        }
        for act in &step.acts {
            write_lines(&mut text, "   [ ] ", act);
        }
        for check in &step.checks {
            write_lines(&mut text, "   check: ", check);
        }
    }
    text
}

/// `4 × screw #8, 32 mm`.
fn in_unit(fixing: &Fixing, unit: Unit) -> String {
    let gauge = fixing
        .gauge
        .as_ref()
        .map_or_else(String::new, |gauge| format!(" {gauge}"));
    let length = fixing
        .length
        .map_or_else(String::new, |length| format!(", {}", unit.show(length)));
    format!("{} × {}{gauge}{length}", fixing.count, fixing.what.name())
}

fn list(text: &mut String, what: &str, items: &[String]) {
    if !items.is_empty() {
        write_lines(text, &format!("   {what}: "), &items.join("; "));
    }
}

/// Lines of at most so many letters.
const WIDE: usize = 100;

/// Words after a lead, broken into lines that stand below its end.
fn write_lines(text: &mut String, lead: &str, words: &str) {
    let mut line = lead.to_owned();
    let indent = lead.chars().count();
    for word in words.split_whitespace() {
        let used = line.chars().count();
        if used > indent && used + 1 + word.chars().count() > WIDE {
            text.push_str(line.trim_end());
            text.push('\n');
            line = " ".repeat(indent);
        } else if used > indent {
            line.push(' ');
        }
        line.push_str(word);
    }
    text.push_str(line.trim_end());
    text.push('\n');
}
