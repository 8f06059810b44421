//! The pattern of greatest worth: which pieces of one board are worth the most together.

use jigless_model::sheets::Micrometres;

use super::demand::Demand;
use crate::costs::gcd;

/// Up to so many steps along a board the exact table is used.
const MOST_CELLS: i64 = 20_000;

/// How many branches are tried where a board has more steps.
const MOST_BRANCHES: u32 = 200_000;

/// How many of each kind make the greatest worth, that worth, and whether it is certain that nothing is worth more.
pub(super) fn best_pattern(
    demand: &[Demand],
    worth: &[f64],
    room: Micrometres,
) -> (Vec<u32>, f64, bool) {
    let mut order: Vec<usize> = (0..demand.len())
        .filter(|&i| worth[i] > 1e-12 && demand[i].count > 0 && demand[i].length <= room)
        .collect();
    let step = order
        .iter()
        .fold(0, |step, &i| gcd(step, demand[i].length))
        .max(1);
    let cells = room / step;
    if cells <= MOST_CELLS {
        let (counts, worth) = by_table(demand, worth, &order, (cells as usize, step));
        return (counts, worth, true);
    }
    order.sort_by(|&a, &b| {
        let dense = |i: usize| worth[i] / demand[i].length as f64;
        dense(b).total_cmp(&dense(a)).then(a.cmp(&b))
    });
    let mut search = Branches {
        demand,
        worth,
        order: &order,
        counts: vec![0; demand.len()],
        best: vec![0; demand.len()],
        most: 0.0,
        left: MOST_BRANCHES,
    };
    search.branch(0, room, 0.0);
    (search.best, search.most, search.left > 0)
}

fn by_table(
    demand: &[Demand],
    worth: &[f64],
    order: &[usize],
    (cells, step): (usize, i64),
) -> (Vec<u32>, f64) {
    // For each kind in turn: the greatest worth within so many cells, and how many of the kind it takes.
    let mut best = vec![0.0_f64; cells + 1];
    let mut taken: Vec<Vec<u32>> = Vec::with_capacity(order.len());
    for &i in order {
        let length = (demand[i].length / step) as usize;
        let most = (demand[i].count as usize).min(cells / length);
        let before = best.clone();
        let mut takes = vec![0; cells + 1];
        for cell in length..=cells {
            for count in 1..=most.min(cell / length) {
                let sum = before[cell - count * length] + count as f64 * worth[i];
                if sum > best[cell] + 1e-12 {
                    best[cell] = sum;
                    takes[cell] = count as u32;
                }
            }
        }
        taken.push(takes);
    }
    let mut counts = vec![0; demand.len()];
    let mut cell = cells;
    for (&i, takes) in order.iter().zip(&taken).rev() {
        counts[i] = takes[cell];
        cell -= takes[cell] as usize * (demand[i].length / step) as usize;
    }
    (counts, best[cells])
}

struct Branches<'a> {
    demand: &'a [Demand],
    worth: &'a [f64],
    order: &'a [usize],
    counts: Vec<u32>,
    best: Vec<u32>,
    most: f64,
    left: u32,
}

impl Branches<'_> {
    fn branch(&mut self, depth: usize, room: Micrometres, sum: f64) {
        if sum > self.most + 1e-12 {
            self.most = sum;
            self.best.clone_from(&self.counts);
        }
        let Some(&i) = self.order.get(depth) else {
            return;
        };
        let dense = self.worth[i] / self.demand[i].length as f64;
        if self.left == 0 || sum + dense * room as f64 <= self.most + 1e-12 {
            return;
        }
        self.left -= 1;
        let length = self.demand[i].length;
        let most = i64::from(self.demand[i].count).min(room / length) as u32;
        for count in (0..=most).rev() {
            self.counts[i] = count;
            let taken = i64::from(count);
            self.branch(
                depth + 1,
                room - taken * length,
                sum + taken as f64 * self.worth[i],
            );
        }
        self.counts[i] = 0;
    }
}
