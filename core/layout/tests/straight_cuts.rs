//! Whatever is asked, the cuts in their printed order make the pieces, and nothing is lost or cut twice.

use std::collections::BTreeMap;

use jigless_layout::cut_sheets;
use jigless_model::sheets::{
    CutContent, CutMark, CutNode, CutStep, Effort, GoodSide, Handling, PieceKind, Saw, SheetAnswer,
    SheetOrigin, SheetProblem, SheetSize, Trims, cut_list,
};
use jigless_model::side::Edge;
use proptest::prelude::*;

fn piece(width: i64, height: i64, count: u32, may_turn: bool) -> PieceKind {
    PieceKind {
        width,
        height,
        may_turn,
        count,
        oversize: 0,
        priority: 0,
        group: None,
    }
}

fn problem(size: (i64, i64), trim: i64, kerf: i64, pieces: Vec<PieceKind>) -> SheetProblem {
    SheetProblem {
        sizes: vec![SheetSize {
            width: size.0,
            height: size.1,
            count: None,
            price: None,
            origin: SheetOrigin::ToBuy,
            trims: Trims::all(trim),
        }],
        pieces,
        saw: Saw {
            kerf,
            effort: Effort::Quick,
            keep: 100_000,
            narrow: 100_000,
            ..Saw::default()
        },
    }
}

/// A saw that knows sizes by name and does what the list says; it gives what lies on the floor in the end.
fn saw(sheet: (i64, i64), kerf: i64, steps: &[CutStep]) -> BTreeMap<CutMark, (i64, i64)> {
    let mut floor = BTreeMap::from([(CutMark::Sheet, sheet)]);
    for step in steps {
        let (width, height) = floor.remove(&step.of).expect("what is cut is there");
        assert_eq!((width, height), (step.at.width, step.at.height));
        let upright = matches!(step.from, Edge::Left | Edge::Right);
        let (across, along) = if upright {
            (width, height)
        } else {
            (height, width)
        };
        assert_eq!(step.length, along);
        assert!(step.distance > 0 && step.distance < across);
        let (near, far) = match step.good_side {
            GoodSide::Near => (step.distance, across - step.distance - kerf),
            GoodSide::Far => (step.distance - kerf, across - step.distance),
        };
        let of = |extent: i64| {
            if upright {
                (extent, height)
            } else {
                (width, extent)
            }
        };
        for (mark, extent) in [(Some(step.off), near), (step.rest, far)] {
            assert!(mark.is_some() || extent <= 0);
            if let Some(mark) = mark
                && mark != CutMark::Waste
            {
                assert!(extent > 0);
                assert!(
                    floor.insert(mark, of(extent)).is_none(),
                    "two things have one name"
                );
            }
        }
    }
    floor
}

/// Cuts every sheet by its list, and looks that exactly the pieces of the problem come of it.
fn assert_cut(problem: &SheetProblem, answer: &SheetAnswer) {
    let mut made = vec![0; problem.pieces.len()];
    for sheet in &answer.sheets {
        let size = &problem.sizes[sheet.size];
        let steps = cut_list(sheet, size, &problem.saw);
        for (mark, (width, height)) in saw((size.width, size.height), problem.saw.kerf, &steps) {
            match mark {
                CutMark::Piece(piece) => {
                    let kind = &problem.pieces[piece.kind];
                    assert!(!piece.turned || kind.may_turn);
                    let own = if piece.turned {
                        (kind.height, kind.width)
                    } else {
                        (kind.width, kind.height)
                    };
                    assert_eq!((width, height), own);
                    made[piece.kind] += 1;
                }
                CutMark::Offcut(_) => assert!(width.min(height) >= problem.saw.keep),
                // A sheet that is a single piece, or one whose rest is a piece, bears its name to the end.
                CutMark::Sheet => assert!(steps.is_empty()),
                CutMark::Board(_) | CutMark::Waste => panic!("{mark:?} is left over"),
            }
        }
        if steps.is_empty() {
            made[sheet.pieces()[0].1.kind] += 1;
        }
        for pair in steps.windows(2) {
            assert!(pair[1].setting == pair[0].setting || pair[1].setting == pair[0].setting + 1);
        }
    }
    for &(kind, count) in &answer.left {
        made[kind] += count;
    }
    let wanted: Vec<u32> = problem.pieces.iter().map(|kind| kind.count).collect();
    assert_eq!(made, wanted);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn the_list_of_cuts_makes_the_pieces(
        sizes in prop::collection::vec((20_000..900_000i64, 20_000..1_500_000i64, 1..5u32, any::<bool>()), 1..10),
        trim in prop::sample::select(vec![0, 5_000, 12_345]),
        kerf in prop::sample::select(vec![0, 2_200, 3_175]),
        stages in prop::sample::select(vec![None, Some(3), Some(4)]),
        longest in prop::sample::select(vec![None, Some(1_500_000)]),
    ) {
        let pieces = sizes.into_iter().map(|(w, h, n, turn)| piece(w, h, n, turn)).collect();
        let mut problem = problem((1_220_000, 2_440_000), trim, kerf, pieces);
        problem.saw.stages = stages;
        problem.saw.handling = Handling { longest, largest: None };
        let answer = cut_sheets(&problem);
        prop_assert!(answer.left.is_empty());
        prop_assert!(answer.sheets.len() >= answer.bound);
        if longest.is_some() {
            let broken: Vec<&CutNode> = answer.sheets.iter().flat_map(|s| after_first_cuts(&s.root)).collect();
            prop_assert!(broken.iter().all(|part| part.width.max(part.height) <= 1_500_000), "{:?}", broken);
        }
        assert_cut(&problem, &answer);
        prop_assert_eq!(&cut_sheets(&problem), &answer);
    }
}

/// What the cuts of the first direction leave of a sheet that holds pieces and is cut further.
fn after_first_cuts(root: &CutNode) -> Vec<&CutNode> {
    let CutContent::Split(split) = &root.content else {
        return Vec::new();
    };
    let parts = split.parts.iter().flat_map(|part| match &part.content {
        CutContent::Split(inner) if inner.direction == split.direction => after_first_cuts(part),
        CutContent::Split(_) => vec![part],
        _ => Vec::new(),
    });
    parts.collect()
}

/// Four fronts of 1150 by 400, which lie in long strips of 2440 where anything can be handled: for one person, who takes
/// 1300 at most, the sheet is first cut across.
#[test]
fn what_one_person_can_handle_changes_the_layout() {
    let pieces = vec![
        piece(400_000, 1_150_000, 5, false),
        piece(395_000, 700_000, 1, false),
    ];
    let mut problem = problem((1_220_000, 2_440_000), 0, 3_000, pieces);
    let longest = |answer: &SheetAnswer| {
        let parts = answer
            .sheets
            .iter()
            .flat_map(|sheet| after_first_cuts(&sheet.root));
        parts.map(|part| part.width.max(part.height)).max()
    };
    assert_eq!(longest(&cut_sheets(&problem)), Some(2_440_000));
    problem.saw.handling.longest = Some(1_300_000);
    let answer = cut_sheets(&problem);
    assert!(
        longest(&answer) <= Some(1_300_000),
        "{:?}",
        longest(&answer)
    );
    assert_eq!(answer.sheets.len(), 1);
    assert_cut(&problem, &answer);
}

/// Two of 600 by 2440 and one of 1220 by 2440 with a kerf of 4: the pair leaves 16 of a sheet, so two sheets, by area.
#[test]
fn a_number_that_area_proves_is_said_to_be_the_least() {
    let pieces = vec![
        piece(600_000, 2_440_000, 2, false),
        piece(1_220_000, 2_440_000, 1, false),
    ];
    let problem = problem((1_220_000, 2_440_000), 0, 4_000, pieces);
    let answer = cut_sheets(&problem);
    assert_eq!(
        (answer.sheets.len(), answer.bound, answer.proved),
        (2, 2, true)
    );
    assert_cut(&problem, &answer);
}

/// What is larger than a sheet is left, and the rest is laid out.
#[test]
fn pieces_that_fit_no_sheet_are_left() {
    let pieces = vec![
        piece(1_300_000, 100_000, 2, false),
        piece(300_000, 300_000, 1, true),
    ];
    let problem = problem((1_220_000, 2_440_000), 0, 3_000, pieces);
    let answer = cut_sheets(&problem);
    assert_eq!(answer.left, [(0, 2)]);
    assert!(!answer.proved);
    assert_cut(&problem, &answer);
}

/// A leftover holds both pieces, so no sheet is bought; with four of them one must be, and it holds them all.
#[test]
fn leftovers_are_used_before_sheets() {
    let pieces = vec![piece(500_000, 500_000, 2, true)];
    let mut problem = problem((1_220_000, 2_440_000), 0, 3_000, pieces);
    let leftover = SheetSize {
        width: 1_100_000,
        height: 520_000,
        count: Some(1),
        origin: SheetOrigin::Leftover,
        ..problem.sizes[0].clone()
    };
    problem.sizes.push(leftover);
    let answer = cut_sheets(&problem);
    let sizes = |answer: &SheetAnswer| -> Vec<usize> {
        answer.sheets.iter().map(|sheet| sheet.size).collect()
    };
    assert_eq!(sizes(&answer), [1]);
    assert!(answer.proved);
    assert_cut(&problem, &answer);
    problem.pieces[0].count = 4;
    let answer = cut_sheets(&problem);
    assert_eq!(sizes(&answer), [0]);
    assert_cut(&problem, &answer);
}

/// Members of a group come from one sheet, though two sheets are needed for all.
#[test]
fn a_group_comes_from_one_sheet() {
    let mut pieces = vec![
        piece(600_000, 1_200_000, 5, false),
        piece(400_000, 800_000, 3, false),
    ];
    pieces[1].group = Some(7);
    let problem = problem((1_220_000, 2_440_000), 0, 3_000, pieces);
    let answer = cut_sheets(&problem);
    let with_group = answer
        .sheets
        .iter()
        .filter(|sheet| sheet.pieces().iter().any(|(_, piece)| piece.kind == 1));
    assert_eq!(with_group.count(), 1);
    assert_cut(&problem, &answer);
}
