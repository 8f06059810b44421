//! Every code that an exporter's findings can have, with its explanation.

jigless_model::codes! {
    BED_TOO_SMALL = Error "bed-too-small":
        "a part or sheet that does not fit the bed of the machine",
        "In neither direction does it lie on the bed. Arrange parts on the `bed` for sheets that are cut up before, or take another machine.",
        "";
    BLIND_WORK_FOR_LASER = Warning "blind-work-for-laser":
        "blind work in a file for a laser",
        "A laser cuts right through. Holes with a depth, grooves, rebates and recesses are drawn on layer NOTES only: make them by hand, or take the file for the router.",
        "";
    CUT_BELOW_KERF = Error "cut-below-kerf":
        "a cut narrower than the laser itself",
        "What is narrower than the kerf cannot be cut at its size. Make it wider, with inside radii of at least half the kerf.",
        "";
    KERF_ALONG_ONE_AXIS = Error "kerf-along-one-axis":
        "a kerf of 0 along one axis only",
        "A beam has a width in both directions. Give both, or one number.",
        "";
    LASER_ON_GLUE_BOUND_BOARD = Note "laser-on-glue-bound-board":
        "a glued board in a file for a laser",
        "The glue of MDF, particleboard and the like gives off harmful fumes. Ask your workshop, and extract the fumes.",
        "board: {thickness: 3, kind: mdf}";
    LASER_ON_PVC = Error "laser-on-pvc":
        "vinyl in a file for a laser",
        "PVC gives off hydrogen chloride when it burns, which poisons people and eats the machine. No setting makes it safe, and no acceptance lets it pass.",
        "film: {thickness: 1, kind: pvc}";
    LASER_ON_UNKNOWN_MATERIAL = Warning "laser-on-unknown-material":
        "a material of kind `other` in a file for a laser",
        "Whether it may go under a laser depends on what is in it. Ask its maker, and never cut anything that holds PVC or vinyl.",
        "film: {thickness: 1}";
    LAYER_NAME_INVALID = Error "layer-name-invalid":
        "a name that no layer can have",
        "Every version of DXF takes at most 31 characters of A to Z, 0 to 9, $, _ and -; a depth takes up to eight of them.",
        "";
    LAYERS_MERGED = Error "layers-merged":
        "one name for layers of work that differs",
        "A machine works a layer with one tool to one depth. Names that a profile gives must keep kinds, depths and diameters of work apart: use {depth}, {diameter} and {angle} in them.",
        "";
    LETTER_NOT_IN_TYPEFACE = Warning "letter-not-in-typeface":
        "a letter that the typeface of drawings does not have",
        "Drawings are lettered with Latin, Greek and Cyrillic letters; anything else is written as its code.",
        "";
    MARGIN_TOO_SMALL = Error "margin-too-small":
        "a margin into which a tool sweeps",
        "A tool runs around the whole part, and runs out over open edges. It may not reach the strip for clamps and fence, nor the edge of the sheet. The message says what would do.",
        "";
    NO_DRILL_FITS = Warning "no-drill-fits":
        "a hole that no listed tool makes",
        "A hole needs a drill of its diameter or a smaller mill, each long enough; a conical mouth a countersink of its angle. Add the tool to the profile, or make the hole by hand.",
        "";
    NO_TOOL_FITS = Error "no-tool-fits":
        "work that no listed tool can do",
        "The router has no tool that is narrow, long or square enough. Widen the slot or the radius, or add a tool to the profile.",
        "";
    OPTION_OUT_OF_RANGE = Error "option-out-of-range":
        "an option of a format outside what it takes",
        "The message says from which number to which.",
        "";
    PART_LARGER_THAN_SHEET = Error "part-larger-than-sheet":
        "a part that fits no sheet",
        "In no turn that its grain allows does the part fit a sheet of its stock, or the bed, with the margin. Take a larger sheet, a smaller margin, or do not arrange this part.",
        "";
    PART_SMALLER_THAN_BED_OPENING = Warning "part-smaller-than-bed-opening":
        "a part that falls through the bed",
        "A part smaller than the openings of the bed tips and catches the head, or is lost. Leave it on tabs, or cut it from another sheet.",
        "";
    PROGRAM_WITHOUT_TOOLS = Error "program-without-tools":
        "a program for a router without a list of tools",
        "A program calls tools and their feeds. List them in a profile.",
        "";
    ROUTER_HAS_NO_TOOLS = Note "router-has-no-tools":
        "a file for a router without a list of tools",
        "Without tools nothing can be said of corners and slots that they do not reach, nor of what they sweep beside the lines. List them in a profile.",
        "";
    SHARED_EDGES_OF_SEVERAL_KERFS = Error "shared-edges-of-several-kerfs":
        "shared edges with more than one kerf",
        "Two parts can share a cut only where the kerf is one number.",
        "";
    SHEETS_WITHOUT_TOOLS = Error "sheets-without-tools":
        "sheets for a router without a list of tools",
        "How far apart parts must lie on a sheet hangs on the tools that run between them. List them in a profile.",
        "";
    SPACING_TOO_SMALL = Error "spacing-too-small":
        "a distance of parts at which a tool cuts into the next one",
        "A tool runs around the whole part, and runs out over open edges. Parts must be further apart than that. The message says what would do.",
        "";
    STOCK_BY_AREA_ALONE = Warning "stock-by-area-alone":
        "a stock to buy, and nothing said of the sheets that it is sold in",
        "How many sheets are needed hangs on their size and on what straight cuts can make of them, so an area alone says little. Write `sheets` into the stock.",
        "stock: {ply: {thickness: 18}}   # and a buying list";
    STOCK_WITHOUT_SIZES = Error "stock-without-sizes":
        "parts that are to be laid out, and nothing said of what their stock is sold in",
        "A layout needs the sheets, or for boards the lengths, that there are or can be bought. No size is made up. Write `sheets` or `boards` into the stock.",
        "stock: {ply: {thickness: 18}}   # and parts of it on sheets";
    TAB_DOES_NOT_FIT = Error "tab-does-not-fit":
        "a tab that would vanish or for which a part has no room",
        "What cuts takes its own width from the gap for a tab, and a tab stands in a straight side that is three times as long. Give another width, or set `tab: 0`.",
        "";
    TEXT_NOT_ENGRAVED = Note "text-not-engraved":
        "a text in a file for a laser",
        "Letters of a font are no lines that a laser can follow; texts of marks are on layer NOTES and are not engraved.",
        "";
    TOOL_WITHOUT_FEEDS = Error "tool-without-feeds":
        "a tool without feed or speed in a program",
        "Feeds and speeds hang on tool, material and machine, so none is ever guessed. Write what the tool's maker gives into the profile.",
        "";
    WORK_NOT_MACHINED = Note "work-not-machined":
        "work that the router's file leaves to the hand",
        "Holes in edges, angled bores and bevels cannot be cut from above. They are on layer HAND_WORK: make them by hand with the part's template.",
        "- edge_hole: {edge: left, along: 50, diameter: 8, depth: 30}";
}
