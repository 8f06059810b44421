//! Templates and drawings read back, with values worked by hand.

use jigless_core::load::NoIncludes;
use jigless_exporters::exporter;
use jigless_model::export::{Artifact, ExportInput, Setting, Stamp};
use jigless_model::plan::Plan;
use jigless_model::workpiece::Workpiece;
use lopdf::{Document, Object};

/// A door with cups on its back and a shelf with nothing but a hole.
const PLAN: &str = r#"
jigless: 1
title: "Glaze <cabinet> & \"stand\""
units: mm
stock:
  ply18: {thickness: 17.7, kind: plywood}
parts:
  door:
    title: "Left <door>"
    stock: ply18
    width: 296
    height: 500
    features:
      - hinge_cups: {edge: left, at: [63.5, height - 63.5], face: back, edge_gap: 6.35}
      - hole: {at: {right: 37, top: 250}, diameter: 5}
  shelf:
    stock: ply18
    width: 120
    height: 40
    features:
      - hole: {at: [20, 20], diameter: 6, depth: 8}
"#;

fn compiled() -> (Plan, Vec<Workpiece>) {
    let compiled = jigless_core::compile("plan.yaml", PLAN.as_bytes(), &NoIncludes);
    compiled
        .result
        .unwrap_or_else(|| panic!("{:?}", compiled.findings))
}

fn export(id: &str, settings: &[(&str, &str)], date: Option<i64>) -> Vec<Artifact> {
    let (plan, workpieces) = compiled();
    let settings: Vec<Setting> = settings
        .iter()
        .map(|(key, value)| Setting {
            key: (*key).to_owned(),
            value: (*value).into(),
        })
        .collect();
    let configured = exporter(id).unwrap().configure(&settings).unwrap();
    let stamp = Stamp::new("jigless 0", date);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    assert!(!configured.vet(&input).has_errors());
    configured.export(&input).unwrap()
}

fn named<'a>(artifacts: &'a [Artifact], path: &str) -> &'a Artifact {
    let paths: Vec<&str> = artifacts.iter().map(|a| a.path.as_str()).collect();
    artifacts
        .iter()
        .find(|artifact| artifact.path == path)
        .unwrap_or_else(|| panic!("{path} is not among {paths:?}"))
}

fn text(artifact: &Artifact) -> &str {
    std::str::from_utf8(&artifact.bytes).unwrap()
}

#[test]
fn each_worked_face_has_a_drawing_and_a_plan_one_file_of_templates() {
    let paths = |id| -> Vec<String> { export(id, &[], None).into_iter().map(|a| a.path).collect() };
    assert_eq!(
        paths("svg-drilling"),
        ["door.svg", "door.back.svg", "shelf.svg"]
    );
    assert_eq!(paths("pdf-template"), ["templates.pdf", "sheets.json"]);
}

/// Common practice, no source: a cup whose rim is 6.35 mm in has its centre 6.35 + 17.5 = 23.85 mm from the edge. The
/// back is seen turned over like a page, so the left edge is on its right: 296 - 23.85 = 272.15 mm from its left.
/// A person who prints it reads words, not symbols that are words of their own (`all numbers in in`).
#[test]
fn the_unit_of_all_numbers_is_a_word() {
    for (unit, words) in [
        ("mm", "part 296 × 500, all numbers in millimetres"),
        ("inch", "all numbers in inches, to 1/64"),
        ("both", "all numbers in millimetres (inches, to 1/64)"),
    ] {
        let drawings = export("svg-drilling", &[("units", unit)], None);
        let door = text(named(&drawings, "door.back.svg"));
        assert!(door.contains(words), "{unit}: {door}");
    }
}

#[test]
fn the_back_is_drawn_as_it_is_seen() {
    let drawings = export("svg-drilling", &[("margin", "10")], None);
    let back = text(named(&drawings, "door.back.svg"));
    // One millimetre of the frame belongs to half the contour's pen, rounded up.
    assert!(back.contains(r#"<circle cx="283.15""#), "{back}");
    assert!(back.contains(r#"r="17.5""#));
    let front = text(named(&drawings, "door.svg"));
    assert!(!front.contains(r#"r="17.5""#), "cups are on the back");
    assert!(front.contains(r#"<circle cx="270" "#), "11 + 296 - 37");
}

#[test]
fn a_drawing_is_in_millimetres_one_unit_each() {
    let drawings = export("svg-drilling", &[], None);
    let shelf = text(named(&drawings, "shelf.svg"));
    let attribute = |name: &str| {
        let (_, rest) = shelf.split_once(&format!(" {name}=\"")).unwrap();
        rest.split_once('"').unwrap().0
    };
    let width = attribute("width").strip_suffix("mm").unwrap();
    let height = attribute("height").strip_suffix("mm").unwrap();
    assert_eq!(attribute("viewBox"), format!("0 0 {width} {height}"));
}

#[test]
fn hostile_words_stay_words() {
    let drawings = export("svg-drilling", &[], None);
    let door = text(named(&drawings, "door.svg"));
    assert!(door.contains("Left &lt;door&gt;"));
    assert!(door.contains("Glaze &lt;cabinet&gt; &amp;"));
    assert!(!door.contains('\u{7}'),);
}

#[test]
fn without_words_there_are_only_strokes_and_areas() {
    let drawings = export(
        "svg-drilling",
        &[("labels", "false"), ("check_line", "false")],
        None,
    );
    for drawing in &drawings {
        let text = text(drawing);
        assert!(
            !text.contains("<text") && !text.contains("transform"),
            "{text}"
        );
        assert!(text.contains("<circle"));
    }
}

/// A hard template has each cut once: the door's outline, two cups and a hole, all of them without fill; a guide bush of
/// 16 mm makes every hole 8 mm in radius.
#[test]
fn a_hard_template_has_cuts_only() {
    let variant = ("variant", "hard-template");
    let drawings = export("svg-drilling", &[variant], None);
    let back = text(named(&drawings, "door.back.svg"));
    for word in [
        "<text",
        "transform",
        "stroke-dasharray",
        "fill=\"#",
        "check",
    ] {
        assert!(!back.contains(word), "{word} in {back}");
    }
    assert_eq!(back.matches("<circle").count(), 2, "{back}");
    assert_eq!(back.matches("<path").count(), 1, "{back}");
    assert_eq!(back.matches("r=\"17.5\"").count(), 2);
    assert!(back.contains("<g id=\"contour\"") && back.contains("<g id=\"holes\""));
    let guided = export("svg-drilling", &[variant, ("guide", "16")], None);
    let back = text(named(&guided, "door.back.svg"));
    assert_eq!(back.matches("r=\"8\"").count(), 2, "{back}");
}

#[test]
fn a_template_asks_not_to_be_scaled() {
    let made = export("pdf-template", &[], None);
    let template = named(&made, "templates.pdf");
    let document = Document::load_mem(&template.bytes).unwrap();
    assert_eq!(document.version, "1.7");
    let preferences = document
        .catalog()
        .unwrap()
        .get(b"ViewerPreferences")
        .unwrap();
    let (_, preferences) = document.dereference(preferences).unwrap();
    let scaling = preferences.as_dict().unwrap().get(b"PrintScaling").unwrap();
    assert_eq!(scaling.as_name().unwrap(), b"None");
}

/// ISO 216 and ANSI/ASME Y14.1 sizes in units of 1/72 in (ISO 32000-1, Table 30): A4 595.276 x 841.890, A3 841.890 x
/// 1190.551, Letter 612 x 792, Legal 612 x 1008, Tabloid 792 x 1224. Pages may lie across.
#[test]
fn pages_are_exactly_their_paper() {
    for (paper, short, long) in [
        ("a4", 595.276, 841.890),
        ("a3", 841.890, 1190.551),
        ("letter", 612.0, 792.0),
        ("legal", 612.0, 1008.0),
        ("tabloid", 792.0, 1224.0),
    ] {
        let made = export("pdf-template", &[("paper", paper)], None);
        let template = named(&made, "templates.pdf");
        let document = Document::load_mem(&template.bytes).unwrap();
        for page in document.get_pages().into_values() {
            let page = document.get_dictionary(page).unwrap();
            assert!(!page.has(b"CropBox") && !page.has(b"Rotate") && !page.has(b"UserUnit"));
            let sides: Vec<f32> = page
                .get(b"MediaBox")
                .and_then(Object::as_array)
                .unwrap()
                .iter()
                .map(|side| side.as_float().unwrap())
                .collect();
            let (a, b) = (sides[2].min(sides[3]), sides[2].max(sides[3]));
            assert!(sides[0].abs() < 1e-9 && sides[1].abs() < 1e-9);
            assert!((f64::from(a) - short).abs() < 1e-3, "{paper}: {a}");
            assert!((f64::from(b) - long).abs() < 1e-3, "{paper}: {b}");
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_bytes() {
    let templates = || export("pdf-template", &[], None);
    assert_eq!(templates(), templates());
    {
        let id = "svg-drilling";
        let together = export(id, &[], None);
        assert_eq!(together, export(id, &[], None));

        // One by one, as a run with several threads asks for them.
        let (plan, workpieces) = compiled();
        let stamp = Stamp::new("jigless 0", None);
        let configured = exporter(id).unwrap().configure(&[]).unwrap();
        let mut apart = Vec::new();
        for workpiece in workpieces.iter().rev() {
            let input = ExportInput::new(&plan, std::slice::from_ref(workpiece), &stamp);
            apart.extend(configured.export(&input).unwrap());
        }
        assert_eq!(apart.len(), together.len());
        for artifact in &apart {
            assert_eq!(artifact, named(&together, &artifact.path));
        }
    }
}

/// 1 740 000 000 s after 1970 is 2025-02-19, 21:20 UTC (86 400 s to the day).
#[test]
fn dates_are_the_users_or_none() {
    let words = |date| {
        let templates = export("pdf-template", &[], date);
        let document = Document::load_mem(&named(&templates, "templates.pdf").bytes).unwrap();
        let info = document.trailer.get(b"Info").unwrap();
        let (_, info) = document.dereference(info).unwrap();
        let info = info.as_dict().unwrap().clone();
        (info, document.extract_text(&[1]).unwrap())
    };
    let (info, page) = words(None);
    assert!(!info.has(b"CreationDate") && !info.has(b"ModDate"));
    assert!(!page.contains("1970") && !page.contains("2025"), "{page}");
    let (info, page) = words(Some(1_740_000_000));
    let date = info.get(b"CreationDate").and_then(Object::as_str).unwrap();
    assert_eq!(date, b"D:20250219212000Z");
    assert!(page.contains("2025-02-19"), "{page}");
}

#[test]
fn options_out_of_range_are_refused() {
    let (plan, workpieces) = compiled();
    let stamp = Stamp::new("jigless 0", None);
    let input = ExportInput::new(&plan, &workpieces, &stamp);
    for (id, key, value) in [
        ("svg-drilling", "margin", "-1"),
        ("pdf-template", "overlap", "80"),
        ("pdf-template", "roll_width", "50"),
    ] {
        let setting = Setting {
            key: key.to_owned(),
            value: value.into(),
        };
        let configured = exporter(id).unwrap().configure(&[setting]).unwrap();
        assert!(configured.vet(&input).has_errors(), "{id}.{key}");
    }
}

/// A cup is 23.85 mm from the hinge edge that its template hooks on, and that is what its drawing says: not 272.15 mm from
/// the other edge. The hole of the knob is 37 mm from the right edge.
#[test]
fn a_part_is_measured_from_the_edges_that_templates_hook_on() {
    let drawings = export("svg-drawing", &[], None);
    assert_eq!(drawings.len(), 2);
    let door = text(named(&drawings, "door.svg"));
    for (words, there) in [
        ("23.85", true),
        ("272.15", false),
        ("37", true),
        ("63.5", true),
        ("Part: Left &lt;door&gt;", true),
        ("1:10 (millimetres)", true),
    ] {
        let has = door.contains(&format!("\n{words}\n"));
        assert_eq!(has, there, "{words}: {door}");
    }
    let pages = export("pdf-part-drawings", &[], None);
    let document = Document::load_mem(&named(&pages, "part-drawings.pdf").bytes).unwrap();
    assert_eq!(document.get_pages().len(), 2, "a page for each part");
}

/// Dimensions are a group of their own, only where they are asked for.
#[test]
fn dimensions_of_a_drilling_drawing_are_a_group() {
    let plain = export("svg-drilling", &[], None);
    assert!(!text(named(&plain, "door.back.svg")).contains("id=\"dimensions\""));
    let measured = export("svg-drilling", &[("dimensions", "true")], None);
    let back = text(named(&measured, "door.back.svg"));
    assert!(
        back.contains("<g id=\"dimensions\"") && back.contains("\n23.85\n"),
        "{back}"
    );
}
