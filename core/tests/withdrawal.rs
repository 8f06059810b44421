//! Withdrawal of a wood screw, worked by hand from the Wood Handbook's formula.
//!
//! Wood Handbook ch. 8, eq. 8-10 (number of the equation from memory, seen second-hand): p = 15 700 G^2 D L pounds, for a
//! shank of D and a thread of L inches. NDS 12.2.2 (seen): 2850 G^2 D pounds for each inch of thread are allowable. G is
//! oven-dry mass by volume at 12 % moisture content (Wood Handbook GTR-190, p. 8-10, seen): wood of 700 kg/m3 at 12 % holds
//! 700 / 1.12 = 625 kg of dry wood in a cubic metre, so G = 0.625, and not 0.7.
//!
//! A screw #8 is 0.164 in thick (ASME B18.6.1); 30 mm long, two thirds of it thread: 20 mm = 0.7874 in.
//!
//! | density | G | allowable: 2850 G^2 x 0.164 x 0.7874 lb | ultimate: 15 700 G^2 x 0.164 x 0.7874 lb |
//! |---|---|---|---|
//! | 420 | 0.375 | 51.75 lb = 230.2 N | 285.1 lb = 1268.1 N |
//! | 560 | 0.5 | 92.01 lb = 409.3 N | 506.8 lb = 2254.5 N |
//! | 700 | 0.625 | 143.76 lb = 639.5 N | 791.9 lb = 3522.7 N |
//!
//! A pull of 100 kg is 980.665 N: 4.26, 2.40 and 1.53 times the first, 0.77, 0.43 and 0.28 of the second. With G taken as
//! density / 1000 it would be 3.40, 1.91 and 1.22 times: a fifth too little, on the unsafe side.

use jigless_core::load::NoIncludes;

/// The finding about a screw that is pulled by so many kilograms: its message and what it says of the density.
fn found(density: f64, pull: f64) -> Option<(String, String)> {
    let plan = format!(
        "jigless: 1\ntitle: A pull\nunits: mm\nstock:\n  board: {{thickness: 10, kind: solid, density: {density}}}\n  thick: {{thickness: 40, kind: solid, density: {density}}}\nparts:\n  panel:\n    stock: board\n    width: 200\n    height: 100\n    features:\n      - hole: {{at: [100, 50], diameter: 5, depth: through, screw: {{length: 30, size: \"#8\", into: rail, pull: {pull}}}}}\n  rail: {{stock: thick, width: 200, height: 100}}\n"
    );
    let compiled = jigless_core::compile("plan.yaml", plan.as_bytes(), &NoIncludes);
    let mut pulls = compiled
        .findings
        .iter()
        .filter(|finding| finding.code == "screw-pulls-out");
    let finding = pulls.next()?;
    let label = finding.labels.first().expect("the density");
    Some((finding.message.clone(), label.text.clone()))
}

#[test]
fn a_pull_is_held_against_the_wood_handbook() {
    for (density, gravity, times, of_ultimate) in [
        (420.0, "0.38", "4.3", "0.77"),
        (560.0, "0.5", "2.4", "0.43"),
        (700.0, "0.62", "1.5", "0.28"),
    ] {
        let (message, label) = found(density, 100.0).expect("a finding");
        let said = format!(
            "is {times} times its allowable withdrawal, and {of_ultimate} of what tore it out in tests"
        );
        assert!(message.contains(&said), "{message}");
        assert!(message.contains("20 mm of thread"), "{message}");
        let basis = format!("taken at 12 % moisture content: specific gravity {gravity}");
        assert!(label.contains(&basis), "{label}");
    }
}

#[test]
fn the_allowable_pull_itself_is_silent() {
    // 639.5 N / 9.80665.
    assert_eq!(found(700.0, 65.2), None);
    assert!(found(700.0, 65.3).is_some());
}
