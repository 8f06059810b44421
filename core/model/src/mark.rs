//! Marks of parts: one letter for each kind of part, the same in every list, picture and file.

use std::collections::BTreeMap;

use crate::plan::{Part, Plan};

/// The letters of marks. I and O are left out: they are taken for 1 and 0 (common practice, no source).
const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

/// The mark of each part of a plan.
///
/// Parts are marked in the order of their stock in the plan, and of one stock the larger first; a handed pair side by
/// side. So the marks follow the cutting list from the thick sheets to the thin ones.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Marks {
    by_part: BTreeMap<String, String>,
}

impl Marks {
    /// The marks of a plan.
    pub fn of(plan: &Plan) -> Self {
        let stock = |part: &Part| plan.stock.iter().position(|s| s.id == part.stock.id);
        let mut order: Vec<usize> = (0..plan.parts.len()).collect();
        order.sort_by(|&i, &j| {
            let (a, b) = (&plan.parts[i], &plan.parts[j]);
            let sides = |part: &Part| {
                let (width, height) = (part.width, part.height);
                [width.max(height), width.min(height)]
            };
            let larger = sides(b)
                .iter()
                .zip(sides(a))
                .map(|(b, a)| b.total_cmp(&a))
                .find(|order| order.is_ne());
            let larger = larger.unwrap_or(std::cmp::Ordering::Equal);
            stock(a).cmp(&stock(b)).then(larger).then(i.cmp(&j))
        });
        let named = order.into_iter().enumerate();
        Self {
            by_part: named
                .map(|(number, index)| (plan.parts[index].id.clone(), letters(number)))
                .collect(),
        }
    }

    /// The mark of the part with an id; empty where there is no such part.
    pub fn mark(&self, part: &str) -> &str {
        self.by_part.get(part).map_or("", String::as_str)
    }
}

/// A, B, ... Z, AA, AB, ...
fn letters(mut number: usize) -> String {
    let mut reversed = Vec::new();
    loop {
        reversed.push(LETTERS[number % LETTERS.len()]);
        if number < LETTERS.len() {
            break;
        }
        number = number / LETTERS.len() - 1;
    }
    reversed.iter().rev().map(|letter| char::from(*letter)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_the_last() {
        let named: Vec<String> = [0, 7, 8, 23, 24, 47, 48, 24 + 24 * 24].map(letters).into();
        assert_eq!(named, ["A", "H", "J", "Z", "AA", "AZ", "BA", "AAA"]);
    }
}
