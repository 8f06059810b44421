//! The index of a site and the page of a plan. They work from any folder, without a server, and load nothing from
//! elsewhere.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use jigless_exporters::{escaped, exporter};
use sha2::{Digest, Sha256};

use super::PLANS;
use super::about::{About, Earlier};
use super::html::{address, bytes};
use crate::export::job;
use crate::find::PlanAt;
use crate::manifest::{FileRecord, Manifest};
use crate::report::counted;

const STYLE: &str = include_str!("site.css");
const SCRIPT: &str = include_str!("index.js");

/// A page. `script` is all that it may run.
fn page(title: &str, head: &str, body: &str, script: Option<&str>) -> String {
    let digest = |text: &str| {
        let digest = STANDARD.encode(Sha256::digest(text.as_bytes()));
        format!("'sha256-{digest}'")
    };
    let run = script.map_or("'none'".to_owned(), digest);
    let script = script.map_or(String::new(), |script| {
        format!("<script>{script}</script>\n")
    });
    // Pictures come from the site itself, also where it is opened from a stick.
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src {run}; style-src {}; \
         img-src 'self' file:; base-uri 'none'; form-action 'none'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{}</title>\n{head}<style>{STYLE}</style>\n</head>\n\
         <body>\n{body}{script}</body>\n</html>\n",
        digest(STYLE),
        escaped(title),
    )
}

/// What is made of each, one after the other.
fn each<T>(of: impl IntoIterator<Item = T>, make: impl Fn(T) -> String) -> String {
    of.into_iter().map(make).collect::<Vec<_>>().concat()
}

/// The index: a card for each plan, and search over them where scripts run.
pub fn index(title: &str, plans: &[About], has_feed: bool) -> String {
    let head = if has_feed {
        "<link rel=\"alternate\" type=\"application/atom+xml\" title=\"Revisions\" href=\"feed.xml\">\n"
    } else {
        ""
    };
    let feed = if has_feed {
        "<p><a href=\"feed.xml\">Feed of revisions</a></p>\n"
    } else {
        ""
    };
    let materials: BTreeSet<&str> = plans
        .iter()
        .flat_map(|plan| plan.materials.iter().map(String::as_str))
        .collect();
    let options = each(&materials, |name| {
        format!("<option>{}</option>\n", escaped(name))
    });
    let cards = each(plans, card);
    let body = format!(
        "<header>\n<h1>{}</h1>\n<p id=\"count\" role=\"status\">{}</p>\n</header>\n\
         <form id=\"search\" class=\"search\" role=\"search\" hidden>\n\
         <div><label for=\"words\">Words</label>\n<input type=\"search\" id=\"words\"></div>\n\
         <div><label for=\"material\">Material</label>\n<select id=\"material\"><option value=\"\">any</option>\n{options}\
         </select></div>\n\
         <div><label for=\"width\">No wider than (mm)</label>\n<input type=\"number\" id=\"width\" min=\"0\" step=\"10\">\
         </div>\n</form>\n\
         <main>\n<ul class=\"cards\">\n{cards}</ul>\n</main>\n<footer>\n{feed}\
         <p><a href=\"SHA256SUMS\">Checksums of all downloads (SHA-256)</a></p>\n</footer>\n",
        escaped(title),
        counted(plans.len(), "plan"),
    );
    page(title, head, &body, Some(SCRIPT))
}

fn card(plan: &About) -> String {
    let folder = format!("{PLANS}/{}", address(&plan.name));
    let picture = plan.picture.as_ref().map_or(String::new(), |picture| {
        format!("<img src=\"{folder}/{picture}\" alt=\"\" loading=\"lazy\">\n")
    });
    let width = plan
        .width_mm
        .map_or(String::new(), |width| format!(" data-width=\"{width:.1}\""));
    let mut lines = Vec::new();
    lines.extend(plan.size.clone());
    lines.push(counted(plan.pieces as usize, "piece"));
    lines.push(plan.materials.join(", "));
    lines.extend(
        plan.revision
            .as_ref()
            .map(|revision| format!("revision {revision}")),
    );
    let lines = each(&lines, |line| format!("<p>{}</p>\n", escaped(line)));
    // As JSON, since a material may be called whatever its author likes.
    let materials = serde_json::to_string(&plan.materials).unwrap_or_default();
    format!(
        "<li class=\"card\"{width} data-materials=\"{}\">\n{picture}<h2><a href=\"{folder}/index.html\">{}</a></h2>\n{lines}</li>\n",
        escaped(&materials),
        escaped(&plan.title),
    )
}

/// The page of a plan, or of an earlier revision `of` a plan.
pub(super) fn plan_page(plan: &About, manifest: &Manifest, of: Option<&PlanAt>) -> String {
    let up = "../".repeat(plan.name.matches('/').count() + 2);
    let mut ways = format!("<a href=\"{up}index.html\">All plans</a>");
    let mut notice = "";
    if of.is_some() {
        ways.push_str(" <a href=\"../../index.html\">The present revision</a>");
        notice = "<p class=\"notice\">This is an earlier revision. Its sheets and files do not fit the present one.</p>\n";
    }
    let picture = plan.picture.as_ref().map_or(String::new(), |picture| {
        format!(
            "<img class=\"large\" src=\"{picture}\" alt=\"{} as it stands, its parts marked\">\n",
            escaped(&plan.title)
        )
    });
    let mut facts = String::new();
    let licence = plan
        .licence
        .as_deref()
        .unwrap_or("none is given: ask the author before you copy it");
    let pieces = plan.pieces.to_string();
    let notes = (!plan.notes.is_empty()).then(|| plan.notes.join("; "));
    for (name, value) in [
        ("Size", plan.size.as_deref()),
        ("Pieces", Some(pieces.as_str())),
        ("Made of", Some(plan.materials.join(", ").as_str())),
        ("Author", plan.author.as_deref()),
        ("Revision", plan.revision.as_deref()),
        ("What is new in it", notes.as_deref()),
        ("Licence", Some(licence)),
    ] {
        if let Some(value) = value {
            // Writing to a String cannot fail.
            let _ = writeln!(facts, "<dt>{name}</dt><dd>{}</dd>", escaped(value));
        }
    }
    let mut read = String::new();
    for (address, words) in [
        (&plan.page, "Read it here, with a view to turn"),
        (&plan.booklet, "Booklet to print (PDF)"),
    ] {
        if let Some(address) = address {
            let _ = writeln!(read, "<li><a href=\"{address}\">{words}</a></li>");
        }
    }
    let zip = &plan.zip;
    let _ = writeln!(
        read,
        "<li><a href=\"{}\" download>Everything in one file (zip)</a>, {} <span class=\"sum\">SHA-256 {}</span></li>",
        address(&zip.name),
        bytes(zip.bytes),
        zip.sha256
    );
    let body = format!(
        "<header>\n<nav aria-label=\"Way back\">{ways}</nav>\n<h1>{}</h1>\n</header>\n<main>\n{notice}{picture}\
         <dl>\n{facts}</dl>\n<ul class=\"ways\">\n{read}</ul>\n{}{}</main>\n",
        escaped(&plan.title),
        files(manifest),
        earlier(&plan.earlier),
    );
    page(&plan.title, "", &body, None)
}

/// All files by their formats.
fn files(manifest: &Manifest) -> String {
    let mut formats: BTreeMap<&str, Vec<&FileRecord>> = BTreeMap::new();
    for file in &manifest.files {
        formats.entry(&file.exporter).or_default().push(file);
    }
    let mut text =
        "<section aria-labelledby=\"files\">\n<h2 id=\"files\">Files, one by one</h2>\n".to_owned();
    for (id, files) in formats {
        let summary = exporter(id).map_or("", |exporter| exporter.summary());
        let rows = each(files.iter().copied(), |file| {
            let name = file.path.split_once('/');
            let name = name.map_or(file.path.as_str(), |(_, name)| name);
            format!(
                "<li><a href=\"{}\">{}</a> {}</li>\n",
                address(&file.path),
                escaped(name),
                bytes(file.bytes)
            )
        });
        let _ = write!(
            text,
            "<details>\n<summary>{} ({})</summary>\n<p>{}: {}</p>\n<ul>\n{rows}</ul>\n</details>\n",
            escaped(if summary.is_empty() { id } else { job(summary) }),
            counted(files.len(), "file"),
            escaped(id),
            escaped(summary)
        );
    }
    text.push_str("</section>\n");
    text
}

/// Earlier revisions, what changed since each, and which of their sheets are still good.
fn earlier(all: &[Earlier]) -> String {
    if all.is_empty() {
        return String::new();
    }
    let list = |lines: &[String]| each(lines, |line| format!("<li>{}</li>\n", escaped(line)));
    let mut text =
        "<section aria-labelledby=\"earlier\">\n<h2 id=\"earlier\">Earlier revisions</h2>\n"
            .to_owned();
    for revision in all {
        let title = escaped(revision.title());
        let _ = writeln!(
            text,
            "<h3><a href=\"revisions/{}/index.html\">{title}</a></h3>",
            address(&revision.name)
        );
        if revision.changes.is_empty() {
            text.push_str("<p>Nothing that is made has changed since.</p>\n");
        } else {
            let _ = write!(
                text,
                "<p>What changed in the revision after it:</p>\n<ul>\n{}</ul>\n",
                list(&revision.changes)
            );
        }
        if !(revision.good.is_empty() && revision.bad.is_empty()) {
            let _ = writeln!(
                text,
                "<p>Templates still good: {} of {}.</p>",
                revision.good.len(),
                revision.good.len() + revision.bad.len()
            );
            for (words, sheets) in [
                ("Keep these sheets", &revision.good),
                ("Throw these away and print them anew", &revision.bad),
            ] {
                if !sheets.is_empty() {
                    let _ = write!(
                        text,
                        "<details>\n<summary>{words} ({})</summary>\n<ul>\n{}</ul>\n</details>\n",
                        sheets.len(),
                        list(sheets)
                    );
                }
            }
        }
    }
    text.push_str("</section>\n");
    text
}
