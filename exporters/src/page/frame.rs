//! The page around the blocks: what it may load, its head, contents and foot.

use std::fmt::Write;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

use super::blocks::{blocks, section};
use super::html::escaped;
use crate::document::Document;

/// How it looks.
const STYLE: &str = include_str!("style.css");

/// The whole page.
pub(super) fn page(document: &Document) -> String {
    let words = document.words;
    let title = escaped(&document.title);
    let mut text = String::new();
    // Writing to a text cannot fail.
    let _ = write!(
        text,
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{title}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n\
         <a class=\"skip\" href=\"#plan\">{}</a>\n",
        words.tag,
        policy(),
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
    for one in &document.sections {
        text.push_str(&section(document, one));
    }
    text.push_str("</main>\n</body>\n</html>\n");
    text
}

/// What the page may load: its own style and nothing else (Content Security Policy Level 3; a style is named by its
/// digest).
fn policy() -> String {
    let digest = STANDARD.encode(Sha256::digest(STYLE.as_bytes()));
    format!(
        "default-src 'none'; style-src 'sha256-{digest}'; img-src data:; base-uri 'none'; form-action 'none'"
    )
}
