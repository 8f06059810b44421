//! Mutations of inputs by a fixed seed, for a run of the tests. The fuzzer has its own, and sees where they lead.

use fastrand::Rng;

/// The longest input that is made.
const LONGEST: usize = 8_192;

/// Makes inputs from others; the same ones on every machine.
#[derive(Debug)]
pub struct Mutator<'a> {
    rng: Rng,
    inputs: &'a [Vec<u8>],
}

impl<'a> Mutator<'a> {
    /// Mutates these inputs, of which there is at least one.
    pub fn new(seed: u64, inputs: &'a [Vec<u8>]) -> Self {
        let rng = Rng::with_seed(seed);
        Self { rng, inputs }
    }

    /// The next input.
    pub fn input(&mut self) -> Vec<u8> {
        let mut bytes = self.inputs[self.rng.usize(..self.inputs.len())].clone();
        for _ in 0..self.rng.usize(1..=4) {
            self.change(&mut bytes);
        }
        bytes.truncate(LONGEST);
        bytes
    }

    fn change(&mut self, bytes: &mut Vec<u8>) {
        let at = self.rng.usize(..=bytes.len());
        let end = (at + self.rng.usize(1..24)).min(bytes.len());
        match self.rng.u8(..6) {
            0 if at < bytes.len() => bytes[at] = self.rng.u8(..),
            1 if at < bytes.len() => bytes[at] = bytes[at].wrapping_add(1),
            2 => bytes.insert(at, self.rng.u8(..)),
            3 => drop(bytes.drain(at..end)),
            // Once more what stands here.
            4 => {
                let piece = bytes[at..end].to_vec();
                bytes.splice(at..at, piece);
            }
            // In its place a piece of another input.
            _ => {
                let other = &self.inputs[self.rng.usize(..self.inputs.len())];
                let start = self.rng.usize(..=other.len());
                let stop = (start + self.rng.usize(1..64)).min(other.len());
                bytes.splice(at..end, other[start..stop].iter().copied());
            }
        }
    }
}
