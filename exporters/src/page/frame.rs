//! The page around the blocks: what it may load, its head, contents and foot.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::blocks::{blocks, section};
use crate::document::Document;
use crate::html::escaped;
use crate::viewer::{VIEWER_SCRIPT, VIEWER_STYLE, viewer_markup};

/// How it looks.
const STYLE: &str = include_str!("style.css");

/// The whole page. `view` is the data of its 3-D view, where there is one.
pub(super) fn page(document: &Document, view: Option<&str>) -> String {
    let (language, words) = (document.words, &document.words.document);
    let title = escaped(&document.title);
    let mut text = String::new();
    // Writing to a text cannot fail.
    let _ = write!(
        text,
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}</title>\n{}</head>\n<body>\n\
         <a class=\"skip\" href=\"#plan\">{}</a>\n",
        language.tag,
        policy(view.is_some()),
        styles(view.is_some()),
        escaped(words.skip)
    );
    let _ = writeln!(
        text,
        "<header>\n<h1>{title}</h1>\n{}</header>",
        blocks(document, &document.cover)
    );
    let _ = writeln!(
        text,
        "<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">{}</h2>\n<ol>",
        escaped(words.contents)
    );
    for section in &document.sections {
        let _ = writeln!(
            text,
            "<li><a href=\"#{}\">{}</a></li>",
            section.id,
            escaped(section.title)
        );
    }
    text.push_str("</ol>\n</nav>\n<main id=\"plan\">\n");
    if view.is_some() {
        text.push_str(&viewer_markup(&language.viewer));
    }
    for one in &document.sections {
        text.push_str(&section(document, one));
    }
    text.push_str("</main>\n");
    if let Some(data) = view {
        // The data is JSON in which no element can end.
        let _ = writeln!(
            text,
            "<script type=\"application/json\" id=\"view3d-data\">{data}</script>\n<script>{VIEWER_SCRIPT}</script>"
        );
    }
    text.push_str("</body>\n</html>\n");
    text
}

fn styles(has_view: bool) -> String {
    let own = format!("<style>{STYLE}</style>\n");
    if has_view {
        format!("{own}<style>{VIEWER_STYLE}</style>\n")
    } else {
        own
    }
}

/// What the page may load: its own styles and script and nothing else (Content Security Policy Level 3; each is named by
/// its digest).
fn policy(has_view: bool) -> String {
    let digest = |text: &str| {
        let digest = STANDARD.encode(Sha256::digest(text.as_bytes()));
        format!("'sha256-{digest}'")
    };
    let (mut style, mut script) = (digest(STYLE), "'none'".to_owned());
    if has_view {
        style = format!("{style} {}", digest(VIEWER_STYLE));
        script = digest(VIEWER_SCRIPT);
    }
    format!(
        "default-src 'none'; script-src {script}; style-src {style}; img-src data:; base-uri 'none'; form-action 'none'"
    )
}
