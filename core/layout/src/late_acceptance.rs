//! Which steps of a search stand: late acceptance (Burke and Bykov).

/// Holds each new value against the present one and the one some steps ago. The less a value, the better.
#[derive(Debug)]
pub(crate) struct LateAcceptance<V> {
    current: V,
    history: Vec<V>,
    step: usize,
}

impl<V: Copy + PartialOrd> LateAcceptance<V> {
    /// Begins at a value, and looks back so many steps.
    pub(crate) fn new(current: V, steps: usize) -> Self {
        Self {
            current,
            history: vec![current; steps],
            step: 0,
        }
    }

    /// Whether a step to a value stands.
    pub(crate) fn accepts(&mut self, value: V) -> bool {
        let slot = self.step % self.history.len();
        self.step += 1;
        let accepted = value <= self.history[slot] || value <= self.current;
        if accepted {
            self.current = value;
        }
        if self.current < self.history[slot] {
            self.history[slot] = self.current;
        }
        accepted
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Looking back two steps: 7 is no worse than 9 two steps ago, 8 is worse than both 7 and 6.
    #[test]
    fn a_step_is_held_against_now_and_some_steps_ago() {
        let mut late = LateAcceptance::new(9, 2);
        assert!(late.accepts(6));
        assert!(late.accepts(7));
        assert!(!late.accepts(8));
        assert!(late.accepts(7));
        assert!(!late.accepts(8));
    }
}
