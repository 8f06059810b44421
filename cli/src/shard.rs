//! One share of a library, for a run on one of several machines.

use std::str::FromStr;

use sha2::{Digest, Sha256};

use crate::find::PlanAt;

/// Share `number` of `count`, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shard {
    /// Which share.
    pub number: u32,
    /// How many shares there are.
    pub count: u32,
}

impl Shard {
    /// Whether a plan is in this share. It hangs on the plan's name alone, which is its path in the library: a plan
    /// that is edited stays in its share, and one that is added moves no other. So no two shares ever hold files of
    /// one plan, also where each keeps its output from one run to the next.
    pub fn holds(self, plan: &PlanAt) -> bool {
        let digest: [u8; 32] = Sha256::digest(plan.name.as_bytes()).into();
        let head = digest
            .iter()
            .take(8)
            .fold(0_u64, |sum, byte| sum << 8 | u64::from(*byte));
        head % u64::from(self.count) == u64::from(self.number - 1)
    }
}

impl FromStr for Shard {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || "it is written K/N, such as 2/4 for the second of four shares".to_owned();
        let (number, count) = text.split_once('/').ok_or_else(wrong)?;
        let number = number.parse().map_err(|_| wrong())?;
        let count = count.parse().map_err(|_| wrong())?;
        if number == 0 || number > count {
            return Err(wrong());
        }
        Ok(Self { number, count })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_plan_is_in_one_share_and_shares_are_about_even() {
        let plan = |n: usize| PlanAt {
            name: format!("shelves/jar-{n}"),
            file: format!("{n}.yaml").into(),
        };
        let mut sizes = [0; 4];
        for n in 0..1000 {
            let holds = |number| Shard { number, count: 4 }.holds(&plan(n));
            let holding: Vec<u32> = (1..=4).filter(|&number| holds(number)).collect();
            assert_eq!(holding.len(), 1);
            sizes[holding[0] as usize - 1] += 1;
        }
        // Four standard deviations of 250 of 1,000 with one chance in four: sqrt(1000 * 1/4 * 3/4) = 13.7.
        assert!(
            sizes.iter().all(|size| (195..=305).contains(size)),
            "{sizes:?}"
        );
    }

    #[test]
    fn only_shares_that_there_are_can_be_asked_for() {
        assert_eq!(
            "2/4".parse(),
            Ok(Shard {
                number: 2,
                count: 4
            })
        );
        for wrong in ["", "1", "0/4", "5/4", "1/0", "a/b", "-1/4", "1/4/2"] {
            assert!(wrong.parse::<Shard>().is_err(), "{wrong}");
        }
    }
}
