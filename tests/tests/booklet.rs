//! Booklets and pages, read back by others: what they say is what the plan, its lists and its machine files say.

use std::path::{Path, PathBuf};

use jigless_core::operation::Work;
use jigless_core::plan::{Part, Plan};
use jigless_core::workpiece::Workpiece;
use jigless_model::hardware::count;
use jigless_model::mark::Marks;
use jigless_model::units::{Unit, decimal};
use jigless_tests::fixtures::{files_of, fixture, tree};
use jigless_tests::plans::compiled;
use jigless_tests::program::export_all;
use jigless_tests::readers::read_with;
use serde_json::Value;

/// The demo plans, and one more in inches.
const PLANS: [&str; 4] = [
    "glaze-cabinet",
    "glazing-trolley",
    "thread-organiser",
    "cutting/fabric-shelves",
];

fn rows(table: &Value) -> Vec<Vec<String>> {
    serde_json::from_value(table.clone()).expect("rows of cells")
}

/// The rows under some heads, of the first table that has them.
fn table(read: &Value, heads: &[&str]) -> Vec<Vec<String>> {
    let tables = read["tables"].as_array().expect("tables").iter().map(rows);
    let mut found = tables.filter(|rows| rows.first().is_some_and(|row| row == heads));
    let rows = found.next().unwrap_or_else(|| panic!("no table {heads:?}"));
    rows[1..].to_vec()
}

/// A length as the plan's unit has it on paper, worked out here: hundredths of a millimetre, or sixty-fourths of an inch.
fn written(mm: f64, unit: Unit) -> String {
    if unit == Unit::Millimetre {
        return decimal(mm, 2);
    }
    let parts = (mm / 25.4 * 64.0).round();
    let about = (parts / 64.0 * 25.4 - mm).abs() > 0.01;
    let (whole, mut over, mut under) = ((parts / 64.0).floor(), parts % 64.0, 64.0);
    while over > 0.0 && over % 2.0 == 0.0 {
        (over, under) = (over / 2.0, under / 2.0);
    }
    let number = match (whole > 0.0, over > 0.0) {
        (_, false) => format!("{whole}"),
        (false, true) => format!("{over}/{under}"),
        (true, true) => format!("{whole} {over}/{under}"),
    };
    if about { format!("~{number}") } else { number }
}

fn size(part: &Part, plan: &Plan) -> String {
    let sizes = [part.width, part.height].map(|mm| written(mm, plan.units));
    sizes.join(" × ")
}

/// All tables; where a part is drawn, paper has a page and a screen has a link.
fn without_pages(read: &Value) -> Vec<Vec<Vec<String>>> {
    let tables = read["tables"].as_array().expect("tables").iter().map(rows);
    let without = |mut rows: Vec<Vec<String>>| {
        let drawing = rows[0].iter().position(|head| head == "Drawing");
        for row in &mut rows {
            drawing.map(|column| row.remove(column));
        }
        rows
    };
    tables.map(without).collect()
}

/// What a cutting list as CSV says: mark, count, and both sizes in millimetres.
fn listed(folder: &Path, plan: &str) -> Vec<(String, String, [f64; 2])> {
    let lists = files_of(folder, "csv");
    let name = Path::new(plan)
        .file_name()
        .and_then(|name| name.to_str())
        .expect("a name");
    let (_, bytes) = lists
        .iter()
        .find(|(path, _)| path.starts_with(name) && path.ends_with("cutting-list.csv"))
        .expect("a cutting list");
    let mut reader = csv::Reader::from_reader(bytes.as_slice());
    let heads = reader.headers().expect("heads").clone();
    let column = |name: &str| {
        heads
            .iter()
            .position(|head| head == name)
            .expect("a column")
    };
    let columns = ["mark", "count", "length_mm", "width_mm"].map(column);
    let rows = reader.records().map(|row| row.expect("a row"));
    rows.map(|row| {
        let number = |column: usize| row[column].parse::<f64>().expect("a number");
        (
            row[columns[0]].to_owned(),
            row[columns[1]].to_owned(),
            [number(columns[2]), number(columns[3])],
        )
    })
    .collect()
}

/// The work of each machine file is as large as its part.
fn holds_machine_files(name: &str, folder: &Path, workpieces: &[Workpiece]) {
    let drawn: Vec<PathBuf> = workpieces
        .iter()
        .map(|workpiece| folder.join(format!("dxf-cnc/{}.dxf", workpiece.part.id)))
        .collect();
    for (workpiece, seen) in workpieces.iter().zip(read_with("check_dxf.py", &drawn)) {
        let unit = if seen["insunits"] == 1 { 25.4 } else { 1.0 };
        let corner = |index: usize, axis: usize| {
            let at = seen["work_extents"][index][axis].as_f64();
            at.expect("a number") * unit
        };
        let part = &workpiece.part;
        for (axis, size) in [part.width, part.height].into_iter().enumerate() {
            let off = corner(1, axis) - corner(0, axis) - size;
            assert!(
                off.abs() < 0.01,
                "{name}: {} is {off} mm off in DXF",
                part.id
            );
        }
    }
}

/// What the sheets of templates say of their parts is what the booklet says: size, thickness and step.
fn holds_templates(name: &str, folder: &Path, plan: &Plan, workpieces: &[Workpiece]) {
    let steps = jigless_core::steps::steps(plan, workpieces, &jigless_words::ENGLISH);
    let read = read_with(
        "text_of_pdf.py",
        &[folder.join("pdf-template/templates.pdf")],
    );
    let pages: Vec<String> = serde_json::from_value(read[0].clone()).expect("pages of words");
    let heads = pages
        .iter()
        .filter_map(|page| Some((page, page.split_once(", all numbers in ")?.0)));
    let mut seen = std::collections::BTreeSet::new();
    for (page, head) in heads {
        let said_size = head.rsplit("part ").next().expect("what stands after it");
        let of_page = |workpiece: &&Workpiece| {
            let part = &workpiece.part;
            let unit = plan.units.in_mm();
            let decimals = if plan.units == Unit::Inch { 4 } else { 2 };
            let thickness = format!(
                "{} {} thick as measured, {}",
                decimal(part.stock.thickness / unit, decimals),
                plan.units.symbol(),
                part.stock.label
            );
            let step = steps.iter().find(|step| {
                step.name.starts_with("work-")
                    && step.pieces.iter().any(|pieces| pieces.part == part.id)
            });
            // Sheets name steps where a plan has joints.
            let step = step.filter(|_| !plan.joints.is_empty());
            let step = step.map_or(String::new(), |step| format!("for step {}", step.number));
            said_size == size(part, plan)
                && page.contains(&thickness)
                && page.contains(&step)
                && page.contains(&part.title)
        };
        let own: Vec<&str> = workpieces
            .iter()
            .filter(of_page)
            .map(|workpiece| workpiece.part.id.as_str())
            .collect();
        assert!(!own.is_empty(), "{name}: no part is {said_size} on: {page}");
        seen.extend(own);
    }
    let needs_sheet = |workpiece: &&Workpiece| {
        let drilled = workpiece.operations.iter();
        drilled
            .filter(|operation| matches!(operation.work, Work::Drill(_)))
            .count()
            > 2
    };
    for workpiece in workpieces.iter().filter(needs_sheet) {
        assert!(
            seen.contains(workpiece.part.id.as_str()),
            "{name}: no sheet for {}",
            workpiece.part.id
        );
    }
}

/// Photographs stand in booklet and page, whole and with words for who does not see them; a plan's own language is that
/// of both unless an option names another.
#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn photographs_and_language_are_the_plans() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let own = out.path().join("rack");
    for (path, bytes) in tree(&fixture("features/document")) {
        let file = own.join(path);
        std::fs::create_dir_all(file.parent().expect("a folder")).expect("a folder");
        std::fs::write(file, bytes).expect("a file");
    }
    let plan = std::fs::read_to_string(own.join("plan.yaml")).expect("a plan");
    std::fs::write(
        own.join("plan.yaml"),
        plan.replace("jigless: 1\n", "jigless: 1\nlanguage: de\n"),
    )
    .expect("a plan");
    for (option, language) in [(None, "de"), (Some("en"), "en")] {
        let mut command = jigless_tests::program::jigless(out.path());
        command.args(["export", "rack", "--force", "--to", "booklet-pdf,page-html"]);
        for format in ["booklet-pdf", "page-html"] {
            let setting = option.map(|option| format!("{format}.language={option}"));
            command.args(setting.iter().flat_map(|setting| ["--set", setting]));
        }
        jigless_tests::program::run(&mut command).done();
        let made = out.path().join("out/rack");
        let files = [
            made.join("booklet-pdf/booklet.pdf"),
            made.join("page-html/index.html"),
        ];
        for read in read_with("check_booklet.py", &files) {
            assert_eq!(read["language"], language);
            assert_eq!(
                read["photographs"],
                serde_json::json!([[320, 240], [640, 480]])
            );
            let figures = read["figures"].to_string();
            for shows in ["The rack with seven tiles in it", "The rack from nearby"] {
                assert!(figures.contains(shows), "{shows}: {figures}");
            }
        }
    }
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn booklet_page_and_lists_say_what_the_plan_says() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let formats = "booklet-pdf,page-html,cutting-list-csv,dxf-cnc,pdf-template";
    export_all(&PLANS, out.path(), &["--quiet", "--to", formats]);
    for name in PLANS {
        let (plan, workpieces) = compiled(name);
        let folder = Path::new(name).file_name().expect("a name");
        let folder = out.path().join(folder);
        let files = [
            folder.join("booklet-pdf/booklet.pdf"),
            folder.join("page-html/index.html"),
        ];
        let read = read_with("check_booklet.py", &files);
        let [booklet, page] = read.as_slice() else {
            panic!("{name}: {read:?}");
        };
        let marks = Marks::of(&plan);
        let lists = listed(out.path(), name);
        for read in [booklet, page] {
            assert_eq!(read["title"], plan.title.as_str());
            assert_eq!(read["language"], "en");
            let parts = table(read, &["Mark", "Count", "Part", "Size", "Material"]);
            assert_eq!(parts.len(), workpieces.len(), "{name}");
            for workpiece in &workpieces {
                let part = &workpiece.part;
                let mark = marks.mark(&part.id);
                let wanted = [
                    mark.to_owned(),
                    part.count.to_string(),
                    part.title.clone(),
                    size(part, &plan),
                    part.stock.label.clone(),
                ];
                assert!(
                    parts.contains(&wanted.to_vec()),
                    "{name}: {wanted:?} in {parts:?}"
                );
                let in_list = lists.iter().any(|(own, count, sizes)| {
                    let near = |a: f64, b: f64| (a - b).abs() < 0.006;
                    let [a, b] = *sizes;
                    *own == mark
                        && *count == part.count.to_string()
                        && (near(a, part.width) && near(b, part.height)
                            || near(b, part.width) && near(a, part.height))
                });
                assert!(in_list, "{name}: {mark} in {lists:?}");
            }
            let hardware = count(&workpieces);
            if !hardware.is_empty() {
                let said = table(read, &["Count", "What", "Length", "Part"]);
                let counts = said
                    .iter()
                    .map(|row| row[0].parse::<u32>().expect("a count"));
                let wanted = hardware.iter().map(|line| line.fitting.count);
                assert!(counts.eq(wanted), "{name}: {said:?}");
            }
            let headings: Vec<String> =
                serde_json::from_value(read["headings"].clone()).expect("headings");
            for step in jigless_core::steps::steps(&plan, &workpieces, &jigless_words::ENGLISH) {
                let titled = |heading: &String| {
                    heading.starts_with(&step.number.to_string()) && heading.contains(&step.title)
                };
                assert!(
                    headings.iter().any(titled),
                    "{name}: {} {}",
                    step.number,
                    step.title
                );
            }
            let figures: Vec<String> =
                serde_json::from_value(read["figures"].clone()).expect("figures");
            assert!(figures.len() >= workpieces.len(), "{name}");
            assert!(
                figures.iter().all(|said| said.len() > 5),
                "{name}: {figures:?}"
            );
        }
        holds_machine_files(name, &folder, &workpieces);
        holds_templates(name, &folder, &plan, &workpieces);
        let read = [booklet, page].map(without_pages);
        assert_eq!(read[0], read[1], "{name}");
        let fonts = booklet["fonts"].as_array().expect("fonts");
        assert!(
            fonts.len() >= 2 && fonts.iter().all(|font| font[1] == true),
            "{fonts:?}"
        );
        assert!(booklet["links"].as_u64() > Some(20), "{name}");
        assert_eq!(page["loads"], serde_json::json!([]), "{name}");
        let ids: Vec<String> = serde_json::from_value(page["ids"].clone()).expect("ids");
        let mut once = ids.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), ids.len(), "{name}: an id stands twice");
        assert!(ids.iter().any(|id| id == "step-1"), "{name}");
    }
}

/// A plan whose every text is an attack stays text, and nothing of it turns the direction of what follows.
#[test]
fn a_hostile_plan_stays_text_on_the_page() {
    let attack =
        r#"</style><script>alert(1)</script><img src=x onerror=alert(1)>\" onload=alert(1) '"#;
    let plan = format!(
        "jigless: 1\ntitle: \"{attack}\"\nrevision: \"{attack}\"\nlicence: \"{attack}\"\nauthor: \"{attack}\"\n\
         introduction: [\"{attack}\", \"[x](javascript:alert(1))\"]\nunits: mm\n\
         stock: {{ply: {{label: \"{attack}\", thickness: 18, sheets: [{{width: 1220, height: 2440}}]}}}}\n\
         parts: {{side: {{title: \"{attack}\", stock: ply, width: 300, height: 400, faces: {{front: \"{attack}\"}}}}}}\n\
         steps: [{{step: mine, after: cut-ply, title: \"{attack}\", text: [\"{attack}\"]}}]\n"
    );
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(folder.path().join("plan.yaml"), plan).expect("a file");
    let mut command = jigless_tests::program::jigless(folder.path());
    command.args([
        "export",
        "plan.yaml",
        "--to",
        "page-html,booklet-pdf",
        "--out",
        "out",
    ]);
    jigless_tests::program::run(&mut command).done();
    let pages = files_of(&folder.path().join("out"), "html");
    let page = String::from_utf8(pages[0].1.clone()).expect("text");
    let lower = page.to_lowercase();
    for bad in ["<script>alert", "<img", "href=\"javascript:"] {
        assert!(!lower.contains(bad), "{bad}");
    }
    for piece in lower.split('<').skip(1) {
        let tag = piece.split('>').next().unwrap_or_default();
        // What is left without the values of attributes: their names.
        let names: String = tag.split('"').step_by(2).collect();
        assert!(!names.contains(" on"), "{tag}");
    }
    assert_eq!(lower.matches("</style>").count(), 1);
    assert!(lower.matches("&lt;script&gt;alert(1)").count() >= 8);
}
