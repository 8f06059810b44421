//! Every code that an exporter's findings can have, with its explanation.

use jigless_core::check::codes::CodeKind;
use jigless_core::diag::Severity;

/// In alphabetic order.
pub static CODES: &[CodeKind] = &[
    CodeKind::error(
        "bad-machine-option",
        "an option for a machine that cannot be",
        "The message says which, and what it can be.",
        "machine: {layers: {groove: {name: \"pocket\"}}}",
    ),
    CodeKind::error(
        "cut-below-kerf",
        "a cut that is too small for the width of the beam",
        "A slot, opening or inside radius is smaller than the beam. It would vanish or come out wider; nothing is rounded in silence. Make it wider than the kerf, with inside radii of at least half of it.",
        "- cutout: {at: [20, 20], width: 40, height: 0.1}   # with kerf: 0.15",
    ),
    CodeKind::error(
        "laser-cannot-cut-blind",
        "blind work in a file for a laser",
        "A laser cuts right through. Holes with a depth, grooves, rebates and recesses are drawn on layer NOTES only: make them by hand, or take the file for the router.",
        "",
    )
    .of(Severity::Warning),
    CodeKind::error(
        "laser-does-not-engrave-text",
        "a text in a file for a laser",
        "Texts are engraved in single strokes of the letters A to Z, 0 to 9 and a few signs. A text with other letters is on layer NOTES and is not engraved.",
        "",
    )
    .of(Severity::Note),
    CodeKind::error(
        "laser-does-not-know-stock",
        "a material of kind `other` in a file for a laser",
        "Whether it may go under a laser depends on what is in it. Ask its maker, and never cut anything that holds PVC or vinyl.",
        "film: {thickness: 1}",
    )
    .of(Severity::Warning),
    CodeKind::error(
        "laser-on-glue-bound-board",
        "a glued board in a file for a laser",
        "The glue of MDF, particleboard and the like gives off harmful fumes. Ask your workshop, and extract the fumes.",
        "board: {thickness: 3, kind: mdf}",
    )
    .of(Severity::Note),
    CodeKind::error(
        "laser-refuses-pvc",
        "vinyl in a file for a laser",
        "PVC gives off hydrogen chloride when it burns, which harms people and machine. No setting makes it safe.",
        "film: {thickness: 1, kind: pvc}",
    ),
    CodeKind::error(
        "machine-leaves-hand-work",
        "work that the router's file leaves to the hand",
        "Holes in edges, angled bores and bevels cannot be cut from above. They are on layer HAND_WORK: make them by hand with the part's template.",
        "- edge_hole: {edge: left, along: 50, diameter: 8, depth: 30}",
    )
    .of(Severity::Note),
    CodeKind::error(
        "no-such-letter",
        "a letter that the typeface of drawings does not have",
        "Drawings are lettered with Latin, Greek and Cyrillic letters; anything else is written as its code.",
        "",
    )
    .of(Severity::Warning),
    CodeKind::error(
        "no-tool-fits",
        "work that no tool of the router fits",
        "The smallest tool of the profile is wider than a slot or groove, larger than an inside radius, or too short. Make the work wider, or add a tool.",
        "- groove: {along: width, from: {bottom: 40}, width: 5, depth: 5}   # with a tool of 6",
    ),
    CodeKind::error(
        "option-out-of-range",
        "an option of a format outside what it takes",
        "The message says from which number to which.",
        "",
    ),
    CodeKind::error(
        "part-larger-than-sheet",
        "a part that fits no sheet",
        "In no turn that its grain allows does the part fit a sheet of its stock, or the bed, with the margin. Take a larger sheet, a smaller margin, or do not arrange this part.",
        "",
    ),
    CodeKind::error(
        "router-has-no-tools",
        "a router whose tools are not known",
        "Without tools in the profile, grooves and rebates end at the edge, where a round tool leaves slivers, and inside corners are not relieved.",
        "machine: {tools: []}",
    )
    .of(Severity::Note),
    CodeKind::error(
        "shared-edges-need-one-kerf",
        "edges that cannot be shared",
        "Neighbours share an edge where they lie one kerf apart, so the kerf must be one number for every stock and axis.",
        "machine: {shared_edges: true, kerf: {x: 0.1, y: 0.2}}",
    ),
    CodeKind::error(
        "smaller-than-bed-opening",
        "a part that may fall through the bed",
        "The part is narrower than the openings of the bed, and may tip up into the way of the head. Tabs hold it, or a closed board below.",
        "machine: {cell: 10}",
    )
    .of(Severity::Warning),
];
