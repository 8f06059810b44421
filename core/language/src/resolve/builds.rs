//! Which builders use sizes of which others, so that a circle of them, or one that comes too late, can be told.

use crate::load::{Entry, Node, Value};

/// The builds of a plan in their order.
#[derive(Debug, Default)]
pub(super) struct Builds<'a> {
    builds: &'a [Entry],
}

impl<'a> Builds<'a> {
    pub(super) fn new(builds: &'a [Entry]) -> Self {
        Self { builds }
    }

    pub(super) fn name(&self, number: usize) -> &'a str {
        &self.builds[number].key.value
    }

    /// The build that makes what a size is of: `trolley-deck.width` is a size of `trolley`.
    pub(super) fn owner(&self, size: &str) -> Option<usize> {
        let (part, _) = size.split_once('.')?;
        let makes = |build: &str| {
            let rest = part.strip_prefix(build);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
        };
        let builds = self.builds.iter().enumerate();
        let own = builds.filter(|(_, build)| makes(&build.key.value));
        // Of `case` and `case-door` the longer one is meant.
        own.max_by_key(|(_, build)| build.key.value.len())
            .map(|(number, _)| number)
    }

    /// The builds from one to another, each of which uses a size of the next; the first and the last are among them.
    pub(super) fn way(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        let mut came_from = vec![None; self.builds.len()];
        let mut reached = vec![from];
        let mut next = 0;
        while let Some(&number) = reached.get(next) {
            if number == to {
                let mut way = vec![to];
                while *way.last()? != from {
                    way.push(came_from[*way.last()?]?);
                }
                way.reverse();
                return Some(way);
            }
            for used in self.uses(number) {
                if !reached.contains(&used) {
                    came_from[used] = Some(number);
                    reached.push(used);
                }
            }
            next += 1;
        }
        None
    }

    /// The builds of which one uses a size.
    fn uses(&self, number: usize) -> Vec<usize> {
        let mut used = Vec::new();
        let mut waiting = vec![&self.builds[number].value];
        while let Some(Node { value, .. }) = waiting.pop() {
            match value {
                Value::Null => {}
                Value::Scalar(scalar) => used.extend(self.named_in(&scalar.text)),
                Value::List(items) => waiting.extend(items),
                Value::Map(entries) => waiting.extend(entries.iter().map(|entry| &entry.value)),
            }
        }
        used.sort_unstable();
        used.dedup();
        used
    }

    /// The builds whose sizes a formula names.
    fn named_in(&self, formula: &str) -> Vec<usize> {
        let is_of_name = |c: char| c.is_ascii_alphanumeric() || "_-.".contains(c);
        let words = formula.split(|c| !is_of_name(c));
        // In `width-deck.height` the name begins behind the sign.
        let tails = words.flat_map(|word| {
            let behind = word.match_indices('-').map(|(at, _)| &word[at + 1..]);
            std::iter::once(word).chain(behind)
        });
        tails.filter_map(|tail| self.owner(tail)).collect()
    }
}
