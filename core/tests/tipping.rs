//! Tipping moments of three cabinets, worked by hand: two sides 300 deep, 900 high and 18 thick with a shelf of 400 by 300
//! between them, of 700 kg/m3.
//!
//! A side is 0.3 x 0.9 x 0.018 x 700 = 3.402 kg, the shelf 0.4 x 0.3 x 0.018 x 700 = 1.512 kg. Both have their middle
//! 150 mm behind the front edge: (2 x 3.402 + 1.512) x 9.80665 x 0.150 = 12.2 N m hold. A push of 5 kg at 900 mm is
//! 5 x 9.80665 x 0.9 = 44.1 N m.

use jigless_core::load::NoIncludes;

fn message_of(more: &str, usage: &str) -> Option<String> {
    let plan = format!(
        "jigless: 1\ntitle: A cabinet\nunits: mm\nstock:\n  board: {{thickness: 18, kind: plywood, density: 700}}\nparts:\n  side-left: {{stock: board, width: 300, height: 900, place: {{at: [0, 0, 0], width: back, height: up}}}}\n  side-right: {{stock: board, width: 300, height: 900, place: {{at: [418, 0, 0], width: front, height: up}}}}\n  shelf: {{stock: board, width: 400, height: 300, place: {{at: [18, 200, 0], height: back}}}}\n{more}joints:\n  - butt: {{part: shelf, to: side-left}}\n  - butt: {{part: shelf, to: side-right}}\n{usage}"
    );
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let messages = compiled
        .findings
        .iter()
        .map(|finding| (finding.code, finding.message.clone()));
    let all: Vec<_> = messages.collect();
    assert!(all.iter().all(|(code, _)| *code == "tips-over"), "{all:#?}");
    all.into_iter().next().map(|(_, message)| message)
}

#[test]
fn a_cabinet_of_sides_and_a_shelf() {
    let message = message_of("", "").expect("it tips");
    assert!(
        message.contains("44.1 N m forward (doors and drawers 0 N m, what is in them 0 N m, push 44.1 N m) against 12.2 N m"),
        "{message}"
    );
}

/// A door of 436 by 900: 4.9442 kg, open with its middle 218 mm before the edge: 10.6 N m; 54.7 with the push.
#[test]
fn a_cabinet_with_an_open_door() {
    let door = "  door: {stock: board, width: 436, height: 900, moves: swings-left, place: {at: [0, 0, 300]}}\n";
    let message = message_of(door, "").expect("it tips");
    assert!(
        message.contains("54.7 N m forward (doors and drawers 10.6 N m, what is in them 0 N m, push 44.1 N m) against 12.2 N m"),
        "{message}"
    );
}

/// A drawer 280 deep: its front 0.504 kg, 309 + 280 - 300 = 289 mm before the edge, and its bottom 1.4112 kg, 160 + 280 -
/// 300 = 140 mm before it: 1.4284 + 1.9374 = 3.4 N m. In it 0.4 x 0.28 x 0.082 x 136 = 1.249 kg at 140 mm: 1.7 N m.
#[test]
fn a_cabinet_with_a_drawer_out() {
    let drawer = "  front: {stock: board, width: 400, height: 100, group: drawer, moves: slides, place: {at: [18, 300, 300]}}\n  bottom: {stock: board, width: 400, height: 280, group: drawer, moves: slides, place: {at: [18, 300, 20], height: back}}\n";
    let message = message_of(drawer, "").expect("it tips");
    assert!(
        message.contains("49.2 N m forward (doors and drawers 3.4 N m, what is in them 1.7 N m, push 44.1 N m) against 12.2 N m"),
        "{message}"
    );
    // 10 kg in it are 10 x 9.80665 x 0.14 = 13.7 N m, and 1 kg at the top edge is 8.8 N m.
    let usage = "usage:\n  - freestanding: {height: 599, drawer_load: 10, push: 1}\n";
    let message = message_of(drawer, usage).expect("it tips");
    assert!(
        message.contains(
            "25.9 N m forward (doors and drawers 3.4 N m, what is in them 13.7 N m, push 8.8 N m)"
        ),
        "{message}"
    );
    // Without a push worth the name it stands: 3.4 + 1.4 is less than 12.2.
    let usage = "usage:\n  - freestanding: {height: 599, drawer_load: 1, push: 0.1}\n";
    assert_eq!(message_of(drawer, usage), None);
}
