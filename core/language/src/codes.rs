//! Every code of a fault of the text and of single features, which always stop the export.

jigless_model::codes! {
    AREA_OUTSIDE_PART = Error "area-outside-part":
        "work that reaches over the part",
        "A groove, rebate, recess or screw pocket must lie on the part. Work that runs out at an edge ends at the edge.",
        "- groove: {along: width, from: {bottom: 95}, width: 10, depth: 5}   # on a part 100 high";
    BAD_BUILD = Error "bad-build":
        "an entry of `builds` that has no single builder",
        "Each entry of `builds` is a name, and under it one builder with its keys.",
        "builds: {tray: }";
    BAD_CUT = Error "bad-cut":
        "a cutout or notch that leaves no single part",
        "What is cut away must leave one piece, and must meet the part at all. Pieces that fall apart are parts of their own.",
        "- cutout: {at: [0, 40], width: 200, height: 10}   # right across a part 200 wide";
    BAD_FEATURE = Error "bad-feature":
        "an entry that is no feature",
        "Each entry of `features` is a map with one key, the feature. Keys of the feature are indented further or stand in braces.",
        "- hole";
    BAD_INCLUDE = Error "bad-include":
        "a file that cannot be included",
        "Included files lie in the plan's folder or below it, so that the folder can be passed on whole. Paths are written with `/`, and lead downward.",
        "include: [../other/tray.yaml]";
    BAD_JOINT = Error "bad-joint":
        "an entry of `joints` that has no single joint",
        "Each entry of `joints` is one joint with its keys.",
        "joints: [{butt: {part: shelf, to: side}, groove: {part: back, to: side}}]";
    BAD_KEY = Error "bad-key":
        "a key that is no single word",
        "A key is a word and a colon.",
        "[a, b]: 1";
    BAD_LENGTH = Error "bad-length":
        "a length that cannot be worked out",
        "Lengths are numbers, fractions, units, names and + - * / with brackets. Length times length is no length, an angle is no length, and values must not use one another in a circle.",
        "width: 200 * 18 mm * 2 mm";
    BAD_NAME = Error "bad-name":
        "a name that cannot be used",
        "Names of parts become names of files, names of stock and values stand in lengths. Use lower-case letters, digits, `-` and `_` for parts; letters, digits and `_` for the others.",
        "parts: {\"a/b\": {...}}";
    BAD_NUMBER = Error "bad-number":
        "something that is not a number",
        "`nan` and `inf` are numbers to YAML and to nobody in the shop.",
        "width: .nan";
    BAD_OUTLINE = Error "bad-outline":
        "points that make no outline",
        "An outline goes once around the part, without crossing or touching itself, and its radii fit between its points.",
        "- outline: {points: [[0, 0], [200, 100], [200, 0], [0, 100]]}";
    BAD_PHOTOGRAPH = Error "bad-photograph":
        "a photograph that cannot be shown",
        "Photographs are JPEG or PNG files in the plan's folder or below it, so that the folder can be passed on whole. They are no larger than a page can show, and stand as they are to be seen: turn them and save them.",
        "photographs: [{file: ../pictures/rack.jpg, shows: The rack}]";
    BAD_SCREW_SIZE = Error "bad-screw-size":
        "a size that no screw has",
        "A wood screw is named by its gauge (`\"#8\"`, in quotes, because YAML takes # for a remark) or by the outside of its thread (`4.5 mm`), a machine screw by `M4`.",
        "screw: {length: 40, size: thick}";
    BAD_TRAY = Error "bad-tray":
        "a tray whose sizes cannot be",
        "The compartments, walls and dividers of a tray must add up to its size. The message says which do not.",
        "divider_tray: {stock: ply, width: 20, depth: 100, height: 40, columns: 9}";
    BEYOND_EDGE = Error "beyond-edge":
        "a position that is not on its edge",
        "Positions along an edge are measured from its bottom or left end, and lie on it.",
        "- hinge_plates: {edge: left, at: [900]}   # on a side 500 high";
    COATS_ON_BARE = Error "coats-on-bare":
        "coats on sides that stay bare",
        "`kind: bare` means that nothing is put on. Coats, coverage and a price of what is put on belong to another kind.",
        "finish: [{kind: bare, faces: [back], coats: 2}]";
    CORNER_OF_OUTLINE = Error "corner-of-outline":
        "a corner shaped on a part with an outline of its own",
        "An outline replaces the rectangle and its corners. Give the points of the outline a radius.",
        "- outline: {...}  and  - corner: {which: top-left, radius: 10}";
    CORNER_SHAPED_TWICE = Error "corner-shaped-twice":
        "a corner shaped twice",
        "A corner has one shape.",
        "- corner: {which: [top-left, top-left], radius: 10}";
    DEPTH_BEYOND_PART = Error "depth-beyond-part":
        "an edge hole longer than the part is wide",
        "The hole would come out on the other side. Make it shorter.",
        "- edge_hole: {edge: left, along: 50, diameter: 8, depth: 250}   # in a part 200 wide";
    DEPTH_BEYOND_THICKNESS = Error "depth-beyond-thickness":
        "work as deep as the part is thick, or deeper",
        "Blind work leaves wood under it. Write `through` where a hole is meant to go through.",
        "- groove: {along: width, from: {bottom: 20}, width: 6, depth: 18}   # in 18 mm";
    DUPLICATE_INCLUDE = Error "duplicate-include":
        "a file that is included twice",
        "What a file says would be said twice.",
        "include: [tray.yaml, tray.yaml]";
    DUPLICATE_KEY = Error "duplicate-key":
        "a name that is given twice",
        "Which of them counts would be anyone's guess. Keep one.",
        "width: 200  and again  width: 210";
    DUPLICATE_PART = Error "duplicate-part":
        "two parts of one name",
        "Names of parts become names of files; a mirrored part needs a name of its own.",
        "mirror_as: side-left   # on `side-left`";
    EDGE_BEVELLED_TWICE = Error "edge-bevelled-twice":
        "an edge bevelled twice",
        "An edge has one bevel.",
        "- bevel: {edge: left, angle: 30}   # twice";
    EMPTY_FILE = Error "empty-file":
        "a file with nothing in it",
        "A plan begins with `jigless: 1`, `title:` and `units:`.",
        "";
    FRONTS_DO_NOT_FILL = Error "fronts-do-not-fill":
        "drawer fronts that do not fill their opening",
        "The fronts and the gaps between them make up the height of the opening. Name one front less than there are drawers: the last takes what is left.",
        "drawer: {count: 2, fronts: [100, 100]}   # in an opening of 694";
    HOLE_BREAKS_FACE = Error "hole-breaks-face":
        "an edge hole that breaks through a face",
        "The hole is thicker than the wood beside its axis. Put the axis into the middle or take a thinner drill.",
        "- edge_hole: {edge: left, along: 50, diameter: 10, depth: 30, from_front: 4}";
    HOLE_LARGER_THAN_PART = Error "hole-larger-than-part":
        "a hole that is larger than the part",
        "A hole as wide as the narrower side of the part would cut it in two. Most likely a unit is wrong, or the diameter stands where another number belongs.",
        "- hole: {at: [100, 50], diameter: 300, depth: through}   # on a part 200 by 100";
    JOINT_APART = Error "joint-apart":
        "parts of a joint that do not meet",
        "By their places the two parts share no surface. One of them is too short, or stands elsewhere.",
        "- butt: {part: shelf, to: side}   # 2 mm from the side";
    JOINT_NOT_SUNK = Error "joint-not-sunk":
        "a part that does not go into the other one",
        "A housing, groove, rebate, half lap or mitre needs one part to reach into the other, out of one of its faces.",
        "- housing: {part: shelf, to: side}   # a shelf as long as the room between the sides";
    JOINT_OVERLAPS = Error "joint-overlaps":
        "a part that goes into the other one too far",
        "Parts of a butt joint only touch, and a part goes no deeper into the other than its cut.",
        "- housing: {part: shelf, to: side, depth: 6}   # a shelf that reaches in 8";
    JOINT_TO_ITSELF = Error "joint-to-itself":
        "a part that is joined to itself",
        "A joint is between two parts.",
        "- butt: {part: shelf, to: shelf}";
    JOINT_WITHOUT_PLACE = Error "joint-without-place":
        "a joint of which nobody knows where it is",
        "Both parts have places in the assembly, or the joint names the edge of one, the face of the other and where on it.",
        "- butt: {part: shelf, to: side}   # of parts without `place:`";
    LIFTS_OFF_GLUED = Error "lifts-off-glued":
        "a part that is to lift off and is glued",
        "What is glued does not come off again. Bolts into inserts hold without glue.",
        "- bolted: {part: top, to: base, insert: {hole: 9.5, length: 13}, glue: yes, lifts_off: yes}";
    MARK_OUTSIDE_PART = Error "mark-outside-part":
        "a mark beyond the part",
        "Marks are pencil lines or engravings on the part.",
        "- mark: {line: {from: [0, 50], to: [300, 50]}}   # on a part 200 wide";
    MISSING_KEY = Error "missing-key":
        "a key that must be given",
        "The message says what belongs there.",
        "- hole: {at: [50, 50]}   # without a diameter";
    MOUTH_TOO_DEEP = Error "mouth-too-deep":
        "a countersink or counterbore deeper than its hole",
        "Then there is no hole under it. Make the hole deeper or the mouth shallower.",
        "- hole: {at: [50, 50], diameter: 4, depth: 3, counterbore: {diameter: 10, depth: 5}}";
    MOUTH_TOO_SMALL = Error "mouth-too-small":
        "a countersink or counterbore no wider than its hole",
        "It would take nothing away.",
        "- hole: {at: [50, 50], diameter: 10, depth: 12, countersink: {diameter: 8}}";
    NO_PARTS = Error "no-parts":
        "a plan without parts",
        "There is nothing to make.",
        "parts: {}";
    NO_POCKET = Error "no-pocket":
        "a shoulder that leaves no pocket",
        "The wood that is left before the edge, along the axis, is as long as the whole axis.",
        "- pocket_holes: {edge: left, at: [50], shoulder: 60}";
    NO_REASON = Error "no-reason":
        "a finding that is accepted without a reason",
        "The reason is printed on the plan, so that the builder knows that it is meant to be so.",
        "accept: {thin-floor: }";
    NO_ROOM = Error "no-room":
        "something for which there is no room",
        "A drawer, a rack's tools, a caster's plate or a shelf on its pins is larger than where it is to go.",
        "drawer: {in: cabinet, length: 600}   # in a cabinet 500 deep";
    NO_SCREW = Error "no-screw":
        "no usual screw fits",
        "What is to be held is too thin or too thick for the lengths that screws are sold in. Give the screw, or use bolts.",
        "base_with_casters: {stock: ply6, ...}";
    NOT_TEXT = Error "not-text":
        "a file that is no text",
        "Plans are UTF-8 text.",
        "";
    NOTHING_LEFT = Error "nothing-left":
        "stops that leave nothing of a groove or rebate",
        "The two stops together are as long as the run.",
        "- groove: {along: width, from: {bottom: 20}, width: 6, depth: 5, stop: {start: 120, end: 90}}   # 200 wide";
    OLD_NAME = Error "old-name":
        "a name that the plan language no longer uses",
        "A key, word or check was renamed, and the message says what it is called now. `jigless migrate PLAN` rewrites all old names of a plan.",
        "allow: {thin-floor: the glue holds it}";
    OTHER_UNITS = Error "other-units":
        "an included file in another unit",
        "Bare numbers of all files of a plan are in one unit. Lengths with their own unit may stand anywhere.",
        "units: in   # included by a plan in mm";
    OUT_OF_RANGE = Error "out-of-range":
        "a value that cannot be",
        "The message says what can be: most lengths are above 0, angles have bounds, counts are whole.",
        "width: -20";
    OUTLINE_NOT_SIZE = Error "outline-not-size":
        "an outline that does not fill the part",
        "Width and height are what lists and sheets go by, so an outline touches all four edges.",
        "- outline: {points: [[0, 0], [190, 0], [190, 100]]}   # on a part 200 wide";
    PARALLEL_DIRECTIONS = Error "parallel-directions":
        "a place whose width and height run along one line",
        "They run square to each other.",
        "place: {at: [0, 0, 0], width: up, height: down}";
    PILOT_TOO_WIDE = Error "pilot-too-wide":
        "a pilot as wide as its pocket",
        "Then there is no shoulder for the screw's head.",
        "- pocket_holes: {edge: left, at: [50], pilot: 10}";
    POCKET_IN_FACE = Error "pocket-in-face":
        "pocket screws that would leave through a face",
        "A pocket screw leaves its part through an edge.",
        "- butt: {part: back, to: side, with: pocket screws}   # a back that lies on the side's edge";
    RADIUS_TOO_LARGE = Error "radius-too-large":
        "a radius that does not fit",
        "Two roundings at the ends of a side must not be longer than the side.",
        "- corner: {which: [top-left, top-right], radius: 120}   # on a part 200 wide";
    READINGS_FAR_APART = Error "readings-far-apart":
        "readings of a thickness that are not of one sheet",
        "Sheets vary by a few tenths of a millimetre. Readings that differ by more are slips, or belong to two stocks.",
        "thickness: [18, 81]";
    ROOMS_DIFFER = Error "rooms-differ":
        "rooms of one drawer builder that are not equal",
        "One builder makes equal boxes for all its rooms.",
        "drawer: {in: [cabinet-deck-1, cabinet-bottom], ...}";
    RUNNER_ROWS_ASSUMED = Warning "runner-rows-assumed":
        "screws of runners where no data sheet says so",
        "Runners have their holes where their maker put them. The rows that are taken where nothing is said are those of one runner and come from no source: yours may have its holes elsewhere.",
        "drawer: {in: cabinet, stock: birch12, bottom_stock: birch6, front_stock: birch18}";
    SCREW_THROUGH_EDGE = Error "screw-through-edge":
        "a screw that would go through a part from edge to edge",
        "Screws go through the thickness of a part.",
        "- butt: {part: rail, to: stile}   # edge to edge; use dowels or pockets";
    SEVERAL_ROOMS = Error "several-rooms":
        "a door or drawer in a carcass that has several rooms",
        "A carcass with fixed shelves or dividers has a room on each floor and in each bay. Which one is meant must be said: `cabinet-bottom`, `cabinet-deck-1`.",
        "door: {in: cabinet}   # with a fixed shelf";
    SHELF_OUTSIDE = Error "shelf-outside":
        "a fixed shelf that is not between bottom and top",
        "Its height counts from the lower edge of the carcass to its underside.",
        "shelves: [{name: deck, up: 690}]   # in a carcass 700 high";
    TAB_INDENT = Error "tab-indent":
        "a line indented with a tab",
        "YAML is indented with spaces.",
        "";
    TEXT_TOO_LONG = Error "text-too-long":
        "a text that no page holds",
        "Texts are printed on one line.",
        "";
    TOO_LONG = Error "too-long":
        "a length beyond 10 m",
        "No sheet is longer; most likely a unit is wrong.",
        "width: 18 m";
    TOO_MANY_COMPARTMENTS = Error "too-many-compartments":
        "more compartments than a tray may have",
        "Check the count.",
        "divider_tray: {stock: ply, width: 300, depth: 200, height: 40, columns: 5000}";
    TOO_MANY_INCLUDES = Error "too-many-includes":
        "more included files than a plan may have",
        "Join some of them.",
        "";
    TOO_MANY_KEYS = Error "too-many-keys":
        "keys of which only one may be given",
        "They say the same thing in two ways.",
        "- cutout: {at: [50, 50], centre: [80, 80], width: 20, height: 20}";
    TOO_MANY_OPERATIONS = Error "too-many-operations":
        "more work than a plan may have",
        "A plan may have 40,000 pieces, features, joints and operations, with all counts and repeats, and one more for every 8 bytes of its text, up to a million. It may have 1,000 different parts, and one more for every 300 bytes, up to 20,000; and cuts that lie on one another by the thousand are not worked out. Most often a number is a slip of the keyboard; if it is not, split the plan.",
        "count: 1000000000";
    TOO_MANY_PLACES = Error "too-many-places":
        "more places than pieces",
        "A part has at most one place for each piece.",
        "place: [{at: [0, 0, 0]}, {at: [0, 200, 0]}]   # of a part without `count:`";
    TOO_MANY_POINTS = Error "too-many-points":
        "more points than an outline may have",
        "An outline may have 50,000 points. An arc takes one, however long it is.",
        "";
    TOO_MANY_REPEATS = Error "too-many-repeats":
        "more repeats than a feature may have",
        "Check the count and the step.",
        "- hole_row: {first: [1, 1], step: [1, 0], count: 100000, diameter: 1, depth: 1}";
    TOO_MUCH_YAML = Error "too-much-yaml":
        "a file that grows too large or too deep",
        "A file of more than 8 MB is not read. Aliases that name aliases and brackets in brackets can make a small file endless; a plan needs neither.",
        "";
    TOO_SHORT = Error "too-short":
        "a size too small to be made",
        "Nothing in a shop is that small; most likely a unit is wrong.",
        "width: 0.0000001";
    TWO_DOCUMENTS = Error "two-documents":
        "a second YAML document in a file",
        "A file holds one plan. A line of `---` begins a second document.",
        "---";
    TWO_OUTLINES = Error "two-outlines":
        "a part with two outlines",
        "The part has one outline. Cut the rest away with cutouts and notches.",
        "";
    TWO_PARALLEL_EDGES = Error "two-parallel-edges":
        "a place measured from two parallel edges",
        "Left and right together do not fix a point: measure once from left or right and once from top or bottom.",
        "at: {left: 20, right: 30}";
    UNKNOWN_BUILDER = Error "unknown-builder":
        "a builder that there is not",
        "The message names the nearest one, or all that there are.",
        "builds: {tray: {try: {}}}";
    UNKNOWN_CHECK = Error "unknown-check":
        "a code that no check has",
        "Only checks can be set or accepted; faults of the plan cannot. `jigless why` lists them.",
        "checks: {thin-flor: {limit: 3}}";
    UNKNOWN_FEATURE = Error "unknown-feature":
        "a feature that there is not",
        "The message names the nearest one.",
        "- hoel: {...}";
    UNKNOWN_JOINT = Error "unknown-joint":
        "a joint that there is not",
        "It is misspelt, or of a newer version.",
        "- rebat: {part: top, to: side}";
    UNKNOWN_KEY = Error "unknown-key":
        "a key that does not belong there",
        "The message names the nearest one, or all that there are.",
        "- hole: {at: [50, 50], diamter: 5}";
    UNKNOWN_LABEL = Error "unknown-label":
        "a feature to leave out that the builder does not make",
        "The message names the nearest one, or all that there are.",
        "- leave_out: pins";
    UNKNOWN_PART = Error "unknown-part":
        "a part that there is not",
        "A feature or an entry of `usage` names a part; the message names the nearest one.",
        "usage: [door: {part: dor, side: side}]";
    UNKNOWN_ROOM = Error "unknown-room":
        "a room or base that nothing has built yet",
        "Builders run in the order of the plan; what a door closes or a carcass stands on comes before it.",
        "door: {in: cabinet, ...}   # above `cabinet:`";
    UNKNOWN_STOCK = Error "unknown-stock":
        "a stock that there is not",
        "A part names what it is made of, as it is called under `stock`.",
        "stock: brich18";
    UNKNOWN_VERSION = Error "unknown-version":
        "a plan in another version of the language",
        "`jigless: 1` is the first line of a plan; this program reads version 1.",
        "jigless: 2";
    UNKNOWN_WORD = Error "unknown-word":
        "a word that does not belong there",
        "The message names the nearest one, or all that there are.",
        "grain: heigth";
    UNPRINTABLE_TEXT = Error "unprintable-text":
        "a text with a line break or control character",
        "Texts are printed on one line.",
        "";
    WRONG_END = Error "wrong-end":
        "an end or edge that does not belong to the direction",
        "The left edge has a top and a bottom end; a groove along the width is measured from the top or the bottom.",
        "- groove: {along: width, from: {left: 20}, width: 6, depth: 5}";
    WRONG_KIND = Error "wrong-kind":
        "a value of another kind than belongs there",
        "The message says what belongs there: a map, a list, or a single value.",
        "features: none";
    YAML_SYNTAX = Error "yaml-syntax":
        "a text that is not YAML",
        "Most often a bracket or quote is not closed, or a line is indented by another number of spaces than its neighbours.",
        "";
}

#[cfg(test)]
mod tests {
    use super::CODES;

    #[test]
    fn codes_are_in_order_and_say_what_they_are() {
        assert!(CODES.windows(2).all(|pair| pair[0].code < pair[1].code));
        for kind in CODES {
            assert!(
                kind.name.len() > 5 && kind.explanation.len() > 5,
                "{}",
                kind.code
            );
        }
    }
}
