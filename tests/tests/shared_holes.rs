//! What two parts share is set out from the same end on both: read off the templates, and held against where the holes lie
//! in the whole.

use std::collections::BTreeMap;

use jigless_core::operation::Work;
use jigless_core::side::{Edge, Face};
use jigless_core::whole::{Body, Direction, Side, Triple};
use jigless_core::workpiece::Workpiece;
use jigless_tests::paper::{list, read, words};
use jigless_tests::plans::compiled;
use jigless_tests::program::export_all;
use serde_json::Value;

/// Holes are one where they lie on one line, within this many millimetres.
const SAME: f64 = 0.01;

/// The edges that the templates of a hole lay hold of or are measured from, by part and hole.
type Datums = BTreeMap<(String, String), Vec<Edge>>;

/// A hole in the whole.
struct Hole {
    part: String,
    name: String,
    /// Where it begins.
    at: Triple,
    /// The axis of the whole along which it runs.
    axis: usize,
    /// The box of its part along that axis.
    reach: (f64, f64),
    /// Where the edges look that its templates are set out from.
    from: Vec<Direction>,
}

/// The names that some words hold, ranges written out: `H1, H4-H6`.
fn names(words: &str) -> Vec<String> {
    let number = |name: &str| name.get(1..)?.parse::<u32>().ok();
    let mut names = Vec::new();
    for word in words.split([' ', ',', ':', '\n']) {
        let (from, to) = word.split_once('-').unwrap_or((word, word));
        if !word.starts_with(['H', 'E', 'P']) {
            continue;
        }
        if let (Some(a), Some(b)) = (number(from), number(to)) {
            names.extend((a..=b).map(|n| format!("{}{n}", &word[..1])));
        }
    }
    names
}

/// The edges that follow some words: `the left and the bottom edges`.
fn edges(words: &str, after: &str) -> Vec<Edge> {
    let mut found = Vec::new();
    for (at, _) in words.match_indices(after) {
        let rest = &words[at + after.len()..];
        let end = rest.find(" edge").unwrap_or(0);
        found.extend(
            Edge::ALL
                .into_iter()
                .filter(|edge| rest[..end].split(' ').any(|word| word == edge.name())),
        );
    }
    found
}

/// What the templates of a plan say.
fn datums(file: &Value) -> Datums {
    let mut datums = Datums::new();
    let pages = list(&file["pages"]).iter();
    for template in pages.flat_map(|page| list(&page["templates"])) {
        let lines = words(template);
        // Holes of the other face are drawn, too, to be seen.
        let own = lines.lines().filter(|line| !line.contains(" from "));
        let uses = lines.lines().filter(|line| line.contains(" edge: "));
        let holes = names(&own.chain(uses).collect::<Vec<_>>().join("\n"));
        let said = lines.replace('\n', " ");
        let mut from = edges(&said, "hook over the ");
        for after in ["mm from the ", "so far from the "] {
            from.extend(edges(&said, after));
        }
        let name = template["viewport"]["name"].as_str().unwrap_or_default();
        let part = name.split(' ').next().unwrap_or_default();
        for hole in holes {
            let entry = datums.entry((part.to_owned(), hole));
            entry.or_default().extend(from.iter().copied());
        }
    }
    datums
}

/// The holes of a part that its templates show, in the first place of the part.
fn holes(workpiece: &Workpiece, datums: &Datums) -> Vec<Hole> {
    let part = &workpiece.part;
    let Some(place) = part.places.first() else {
        return Vec::new();
    };
    let size = [part.width, part.height, part.thickness()];
    let body = Body::new(*place, size, false);
    let bounds = body.bounds();
    let mut holes = Vec::new();
    for operation in &workpiece.operations {
        let (name, side, at) = match &operation.work {
            Work::Drill(drill) => {
                let depth = match drill.face {
                    Face::Front => 0.0,
                    Face::Back => size[2],
                };
                let at = body.to_whole(drill.centre.x, drill.centre.y, depth);
                (&drill.id, Side::Face(drill.face), at)
            }
            Work::EdgeDrill(hole) => {
                let (x, y) = match hole.edge {
                    Edge::Left => (0.0, hole.along),
                    Edge::Right => (size[0], hole.along),
                    Edge::Bottom => (hole.along, 0.0),
                    Edge::Top => (hole.along, size[1]),
                };
                let at = body.to_whole(x, y, hole.from_front);
                (&hole.id, Side::Edge(hole.edge), at)
            }
            _ => continue,
        };
        let Some(edges) = datums.get(&(part.id.clone(), name.clone())) else {
            continue;
        };
        let axis = body.looks(side).axis();
        holes.push(Hole {
            part: part.id.clone(),
            name: name.clone(),
            at,
            axis,
            reach: (bounds.min[axis], bounds.max[axis]),
            from: edges
                .iter()
                .map(|edge| body.looks(Side::Edge(*edge)))
                .collect(),
        });
    }
    holes
}

/// Whether two holes are one, through two parts that touch.
fn shared(a: &Hole, b: &Hole) -> bool {
    let beside = (0..3).filter(|axis| *axis != a.axis);
    a.part != b.part
        && a.axis == b.axis
        && beside.into_iter().all(|i| (a.at[i] - b.at[i]).abs() < SAME)
        && a.reach.0 < b.reach.1 + SAME
        && b.reach.0 < a.reach.1 + SAME
}

/// Along each axis across two shared holes, both are set out from the same end of the whole.
fn differences(a: &Hole, b: &Hole) -> Vec<String> {
    let mut differences = Vec::new();
    for axis in (0..3).filter(|axis| *axis != a.axis) {
        let along = |hole: &Hole| -> Vec<Direction> {
            let from = hole.from.iter().filter(|way| way.axis() == axis);
            let mut from: Vec<Direction> = from.copied().collect();
            from.sort_by_key(|way| way.name());
            from.dedup();
            from
        };
        let (one, other) = (along(a), along(b));
        // Along the thickness of a part there is no edge to choose.
        let common = one.iter().any(|way| other.contains(way));
        if !one.is_empty() && !other.is_empty() && !common {
            differences.push(format!(
                "{} {} from the {} and {} {} from the {}",
                a.part,
                a.name,
                one[0].name(),
                b.part,
                b.name,
                other[0].name()
            ));
        }
    }
    differences
}

/// The same holes of a handed pair are set out from mirrored edges.
fn pair_differences(workpieces: &[Workpiece], datums: &Datums) -> (usize, Vec<String>) {
    let (mut count, mut differences) = (0, Vec::new());
    for workpiece in workpieces {
        let part = &workpiece.part;
        let Some(pair) = part.pair.as_ref().filter(|pair| pair.mirrored) else {
            continue;
        };
        for ((_, hole), edges) in datums.iter().filter(|((own, _), _)| *own == part.id) {
            let Some(other) = datums.get(&(pair.other.clone(), hole.clone())) else {
                continue;
            };
            count += 1;
            let sorted = |edges: &mut Vec<&str>| {
                edges.sort_unstable();
                edges.dedup();
            };
            let mut own: Vec<&str> = edges.iter().map(|edge| edge.mirrored().name()).collect();
            let mut other: Vec<&str> = other.iter().map(|edge| edge.name()).collect();
            sorted(&mut own);
            sorted(&mut other);
            if own != other {
                differences.push(format!("{} {hole}: {own:?}, not {other:?}", part.id));
            }
        }
    }
    (count, differences)
}

#[test]
#[cfg_attr(
    not(has_pdf_readers),
    ignore = "needs qpdf and the Python readers: tests/run"
)]
fn what_two_parts_share_is_set_out_from_the_same_end() {
    let plans = [
        "glaze-cabinet",
        "glazing-trolley",
        "thread-organiser",
        "paper/tall-side",
    ];
    let out = tempfile::tempdir().expect("a temporary folder");
    export_all(&plans, out.path(), &["--quiet", "--to", "pdf-template"]);
    let (mut joined, mut paired, mut faults) = (0, 0, Vec::new());
    for plan in plans {
        let folder = plan.rsplit('/').next().unwrap_or(plan);
        let file = out.path().join(folder).join("pdf-template/templates.pdf");
        let datums = datums(&read(&file));
        let (_, workpieces) = compiled(plan);
        let holes: Vec<Hole> = workpieces.iter().flat_map(|w| holes(w, &datums)).collect();
        for (index, one) in holes.iter().enumerate() {
            for other in holes[index + 1..].iter().filter(|other| shared(one, other)) {
                joined += 1;
                faults.extend(differences(one, other));
            }
        }
        let (count, differences) = pair_differences(&workpieces, &datums);
        paired += count;
        faults.extend(differences);
    }
    println!("{joined} holes through two parts, {paired} of a handed pair");
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(joined > 30 && paired > 60, "{joined} and {paired}");
}
