//! Boards that are cut to length.
//!
//! Column generation after Gilmore and Gomory ("A linear programming approach to the cutting stock problem", Operations
//! Research 1961 and 1963) gives a bound that whole boards seldom miss, and a dive through its solutions, with a few turns
//! at other patterns, the boards: so most answers are proved.

mod demand;
mod knapsack;
mod program;
mod search;

use jigless_model::sheets::{BoardAnswer, BoardProblem, CutBoard, Micrometres};

use crate::costs::{Offer, costs};
use demand::Demand;
use program::Length;

/// Lays out the pieces of a problem. The same problem gives the same answer.
pub fn cut_boards(problem: &BoardProblem) -> BoardAnswer {
    let kerf = problem.kerf;
    let room = |length: Micrometres| length - 2 * problem.end_trim + kerf;
    let offers: Vec<Offer> = problem
        .lengths
        .iter()
        .map(|length| Offer {
            origin: length.origin,
            amount: length.length as f64 / 1e3,
            price: length.price,
        })
        .collect();
    let costs = costs(&offers);
    let lengths: Vec<Length> = problem
        .lengths
        .iter()
        .zip(costs)
        .map(|(length, cost)| Length {
            room: room(length.length).max(0),
            count: length.count,
            cost,
        })
        .collect();
    let longest = lengths.iter().map(|length| length.room).max().unwrap_or(0);
    let Wanted {
        demand,
        kinds,
        mut left,
    } = wanted(problem, longest);
    if demand.is_empty() || lengths.is_empty() {
        return BoardAnswer {
            left,
            ..BoardAnswer::default()
        };
    }
    let found = search::search(&demand, &lengths);
    let mut copies = vec![0; problem.pieces.len()];
    let mut boards: Vec<CutBoard> = Vec::new();
    for pattern in &found.patterns {
        let (pieces, taken) = handed_out(problem, &demand, &kinds, &pattern.counts, &mut copies);
        // Room and pieces are grown by a kerf each, so what is left is the rest and the kerf before it.
        boards.push(CutBoard {
            length: pattern.length,
            pieces,
            rest: (lengths[pattern.length].room - taken - kerf).max(0),
        });
    }
    boards.sort_by(|a, b| {
        let key = |board: &CutBoard| {
            (
                problem.lengths[board.length].origin,
                board.length,
                board.rest,
            )
        };
        key(a).cmp(&key(b)).then_with(|| a.pieces.cmp(&b.pieces))
    });
    for (kind, piece) in problem.pieces.iter().enumerate() {
        let missing = piece.count - copies[kind];
        if missing > 0 && !left.iter().any(|(other, _)| *other == kind) {
            left.push((kind, missing));
        }
    }
    left.sort_unstable();
    BoardAnswer {
        proved: left.is_empty() && found.proved,
        bound: found.bound,
        boards,
        left,
    }
}

/// What the search is asked for: pieces of one length are one kind to it.
struct Wanted {
    demand: Vec<Demand>,
    /// The kinds of the problem that each demand stands for.
    kinds: Vec<Vec<usize>>,
    /// Kinds that no board can hold, and how many of each.
    left: Vec<(usize, u32)>,
}

fn wanted(problem: &BoardProblem, longest: Micrometres) -> Wanted {
    let mut wanted = Wanted {
        demand: Vec::new(),
        kinds: Vec::new(),
        left: Vec::new(),
    };
    for (kind, piece) in problem.pieces.iter().enumerate() {
        let length = piece.length + problem.kerf;
        if piece.count == 0 {
            continue;
        }
        if length > longest {
            wanted.left.push((kind, piece.count));
            continue;
        }
        let known = wanted
            .demand
            .iter()
            .position(|demand| demand.length == length);
        if let Some(index) = known {
            wanted.demand[index].count += piece.count;
            wanted.kinds[index].push(kind);
        } else {
            let count = piece.count;
            wanted.demand.push(Demand { length, count });
            wanted.kinds.push(vec![kind]);
        }
    }
    wanted
}

/// The pieces of one board, longest first, and what they take with a kerf each. Copies are handed out kind by kind.
fn handed_out(
    problem: &BoardProblem,
    demand: &[Demand],
    kinds: &[Vec<usize>],
    counts: &[u32],
    copies: &mut [u32],
) -> (Vec<(usize, u32)>, Micrometres) {
    let mut pieces = Vec::new();
    let mut taken = 0;
    let mut order: Vec<usize> = (0..demand.len()).filter(|&i| counts[i] > 0).collect();
    order.sort_by_key(|&i| -demand[i].length);
    for i in order {
        for _ in 0..counts[i] {
            let open = |kind: &&usize| copies[**kind] < problem.pieces[**kind].count;
            let Some(&kind) = kinds[i].iter().find(open) else {
                continue;
            };
            copies[kind] += 1;
            pieces.push((kind, copies[kind]));
            taken += demand[i].length;
        }
    }
    (pieces, taken)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jigless_model::sheets::{BoardLength, BoardPiece, SheetOrigin};

    fn problem(lengths: &[(i64, Option<u32>, Option<f64>)], pieces: &[(i64, u32)]) -> BoardProblem {
        let length = |&(length, count, price): &(i64, Option<u32>, Option<f64>)| BoardLength {
            length,
            count,
            price,
            origin: if count.is_some() {
                SheetOrigin::AtHand
            } else {
                SheetOrigin::ToBuy
            },
        };
        BoardProblem {
            width: 0,
            lengths: lengths.iter().map(length).collect(),
            pieces: pieces
                .iter()
                .map(|&(length, count)| BoardPiece { length, count })
                .collect(),
            kerf: 0,
            end_trim: 0,
        }
    }

    /// 20 x 5, 10 x 4 and 20 x 3 from 9, by hand: each 5 takes a board of its own and leaves 4, which hold the fours and
    /// ten threes; the other ten threes take four more.
    #[test]
    fn a_small_list_is_proved() {
        let answer = cut_boards(&problem(&[(9, None, None)], &[(5, 20), (4, 10), (3, 20)]));
        assert!(answer.proved);
        assert_eq!(answer.boards.len(), 24);
    }

    /// 6 pieces of 1000 with a kerf of 4 out of 3000: two a board (2 x 1004 + 1000 is 3008), so three boards.
    #[test]
    fn a_kerf_lies_between_pieces() {
        let mut three = problem(&[(3000, None, None)], &[(1000, 6)]);
        three.kerf = 4;
        assert_eq!(cut_boards(&three).boards.len(), 3);
        three.lengths[0].length = 3008;
        assert_eq!(cut_boards(&three).boards.len(), 2);
    }

    /// The dearer board holds three times as much for twice the price.
    #[test]
    fn the_cheapest_lengths_are_taken() {
        let prices = [(1000, None, Some(1.0)), (3000, None, Some(2.0))];
        let answer = cut_boards(&problem(&prices, &[(1000, 4)]));
        let mut taken: Vec<usize> = answer.boards.iter().map(|board| board.length).collect();
        taken.sort_unstable();
        assert_eq!(taken, [0, 1]);
        assert!(answer.proved);
    }

    #[test]
    fn what_is_at_hand_goes_first_and_ends() {
        let some = [(2000, Some(1), None), (2000, None, None)];
        let answer = cut_boards(&problem(&some, &[(900, 5)]));
        let taken: Vec<usize> = answer.boards.iter().map(|board| board.length).collect();
        assert_eq!(taken, [0, 1, 1]);
        let none = cut_boards(&problem(&[(2000, Some(1), None)], &[(900, 5), (2500, 1)]));
        assert_eq!(none.left, [(0, 3), (1, 1)]);
    }
}
