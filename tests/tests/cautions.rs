//! What strangers get says what its work can do to them: every file of every format, whatever is chosen.

use std::sync::LazyLock;

use jigless_exporters::EXPORTERS;
use jigless_model::caution::{Caution, DEFER, DEFER_SHORT, Medium, called_for};
use jigless_model::plan::Plan;
use jigless_model::workpiece::Workpiece;
use jigless_tests::fixtures::files_of;
use jigless_tests::plans::compiled;
use jigless_tests::program::export_all;
use jigless_tests::readers::{below, read_with};

/// Plans of our own scenario: a cabinet with doors and drawers, a trolley on casters, a tray from a laser.
const PLANS: [&str; 3] = ["glaze-cabinet", "glazing-trolley", "thread-organiser"];

/// A plan by name, and what it is read as.
type Read = (&'static str, (Plan, Vec<Workpiece>));

/// The plans as they are read.
static READ: LazyLock<Vec<Read>> =
    LazyLock::new(|| PLANS.iter().map(|plan| (*plan, compiled(plan))).collect());

/// What the reader does with a format, where its files carry cautions.
fn medium(format: &str) -> Option<Medium> {
    Some(match format {
        "svg-drilling" => Medium::ByHand,
        "cutting-pdf" | "cutting-svg" | "cutting-json" => Medium::Saw,
        "cutting-list-csv" | "cutting-list-json" | "buying-list-csv" => Medium::Parts,
        "hardware-csv" => Medium::Hardware,
        "checklist" | "summary-text" | "steps-text" | "steps-json" | "svg-views" | "svg-steps"
        | "pdf-drawings" | "glb" | "booklet-pdf" | "page-html" => Medium::Whole,
        _ => return None,
    })
}

/// Formats that write cautions by part or by machine, page 1 or a head for all pages, or as dots, and are not held here.
const BY_PART_OR_MACHINE: [&str; 8] = [
    "dxf-cnc",
    "dxf-laser",
    "svg-laser",
    "ngc-router",
    "pdf-template",
    "pdf-part-drawings",
    "svg-drawing",
    // The same drawing as `svg-views`.
    "png-views",
];

/// Options that make a file smaller or barer: none takes the cautions out.
const BARE: [&str; 8] = [
    "--set",
    "svg-drilling.labels=false",
    "--set",
    "svg-views.marks=false",
    "--set",
    "svg-views.shading=false",
    "--set",
    "glb.plain=true",
];

#[test]
fn every_format_is_known_here() {
    for exporter in EXPORTERS {
        let id = exporter.id();
        let known = medium(id).is_some() != BY_PART_OR_MACHINE.contains(&id);
        assert!(
            known,
            "say in `medium` what is done with {id}, and let its files carry cautions"
        );
    }
}

#[test]
fn no_option_is_about_cautions() {
    for exporter in EXPORTERS {
        for option in exporter.options() {
            assert!(
                !option.key.contains("caution"),
                "{}.{}",
                exporter.id(),
                option.key
            );
        }
    }
}

#[test]
#[cfg_attr(
    not(has_python_readers),
    ignore = "needs the Python readers: tests/run"
)]
fn every_file_carries_what_its_work_calls_for() {
    let formats: Vec<&str> = EXPORTERS
        .iter()
        .map(|e| e.id())
        .filter(|id| medium(id).is_some())
        .collect();
    let all = formats.join(",");
    for (to, more, pdf) in [
        (all.as_str(), &[][..], true),
        ("svg-drilling,svg-views,glb", &BARE, false),
    ] {
        let out = tempfile::tempdir().expect("a temporary folder");
        let arguments = [&["--quiet", "--to", to][..], more].concat();
        export_all(&PLANS, out.path(), &arguments);
        let pdfs: Vec<String> = files_of(out.path(), "pdf")
            .into_iter()
            .map(|(name, _)| name)
            .collect();
        assert_eq!(pdfs.len(), if pdf { 3 * PLANS.len() } else { 0 });
        let pages = read_with("text_of_pdf.py", &below(out.path(), &pdfs));
        let mut looked_at = 0;
        for (name, pages) in pdfs.iter().zip(pages) {
            let pages: Vec<String> = serde_json::from_value(pages).expect("texts");
            // The line that defers to others stands on every page.
            for page in &pages {
                assert!(page.contains(DEFER_SHORT), "{name}: {page}");
            }
            holds(name, &pages.join(" "));
            looked_at += 1;
        }
        for extension in ["svg", "csv", "json", "txt", "glb", "html"] {
            for (name, bytes) in files_of(out.path(), extension) {
                if name.ends_with("manifest.json") {
                    continue;
                }
                let text = String::from_utf8_lossy(&bytes);
                // A list of nothing is a line of heads.
                if extension == "csv" && text.lines().count() == 1 {
                    continue;
                }
                let text = text.replace("&apos;", "'").replace("&#39;", "'");
                holds(
                    &name,
                    &text.split_whitespace().collect::<Vec<_>>().join(" "),
                );
                looked_at += 1;
            }
        }
        assert!(looked_at > 40, "{looked_at}");
        println!("{looked_at} files");
    }
}

/// `PLAN/FORMAT/FILE` and what is read in it.
fn holds(name: &str, text: &str) {
    let steps: Vec<&str> = name.split('/').collect();
    let (plan, format) = (steps[0], steps[1]);
    let medium = medium(format).unwrap_or_else(|| panic!("{name}"));
    let (_, (resolved, workpieces)) = READ.iter().find(|(own, _)| *own == plan).expect("a plan");
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains(&words(DEFER)) || text.contains(DEFER_SHORT),
        "{name}"
    );
    let wanted = match medium {
        // A drawing is of one part, and a list of hardware has only what is in it.
        Medium::ByHand => {
            let file = steps[2];
            let own: Vec<_> = workpieces
                .iter()
                .filter(|w| {
                    file == format!("{}.svg", w.part.id)
                        || file == format!("{}.back.svg", w.part.id)
                })
                .cloned()
                .collect();
            assert_eq!(own.len(), 1, "{name}");
            called_for(resolved, &own, medium)
        }
        _ => called_for(resolved, workpieces, medium),
    };
    assert!(wanted.contains(&Caution::Work));
    for caution in wanted {
        let said = text.contains(caution.short()) || text.contains(&words(caution.text()));
        assert!(said, "{name} does not say `{}`", caution.short());
    }
}
