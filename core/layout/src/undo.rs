//! Sheets as they were before a step of a search.

/// Copies of what a step changes, by number, so that it can be undone; the memory of copies is used again.
#[derive(Debug)]
pub(crate) struct Undo<T> {
    saved: Vec<(usize, T)>,
    spare: Vec<T>,
}

impl<T: Clone> Undo<T> {
    pub(crate) fn new() -> Self {
        Self {
            saved: Vec::new(),
            spare: Vec::new(),
        }
    }

    /// Keeps what has a number as it is, unless that was done in this step.
    pub(crate) fn save(&mut self, all: &[T], number: usize) {
        if self.numbers().all(|other| other != number) {
            let copy = self.copy_of(&all[number]);
            self.keep(number, copy);
        }
    }

    /// What has a number is to become this when the step is undone.
    pub(crate) fn keep(&mut self, number: usize, before: T) {
        self.saved.push((number, before));
    }

    /// A copy in memory that is there.
    pub(crate) fn copy_of(&mut self, one: &T) -> T {
        match self.spare.pop() {
            Some(mut copy) => {
                copy.clone_from(one);
                copy
            }
            None => one.clone(),
        }
    }

    /// The numbers of all that the step changes.
    pub(crate) fn numbers(&self) -> impl Iterator<Item = usize> + '_ {
        self.saved.iter().map(|(number, _)| *number)
    }

    /// The step stands.
    pub(crate) fn forget(&mut self) {
        self.spare.extend(self.saved.drain(..).map(|(_, one)| one));
    }

    /// Puts everything back as it was before the step.
    pub(crate) fn undo(&mut self, all: &mut [T]) {
        while let Some((number, before)) = self.saved.pop() {
            self.spare.push(std::mem::replace(&mut all[number], before));
        }
    }
}
