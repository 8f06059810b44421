//! The page itself: the 3-D view, what is wrong beside it, and the lists. Everything in it is in the program.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use jigless_exporters::{VIEWER_SCRIPT, VIEWER_STYLE, viewer_markup};
use jigless_words::ENGLISH;
use sha2::{Digest, Sha256};

const SCRIPT: &str = include_str!("live.js");
const STYLE: &str = include_str!("live.css");
const BODY: &str = include_str!("live.html");

/// The page and its Content-Security-Policy: the scripts and styles of the page by their digests, nothing from
/// elsewhere, and requests to the program alone.
pub(super) fn page() -> (String, String) {
    let scripts = [VIEWER_SCRIPT, SCRIPT];
    let styles = [VIEWER_STYLE, STYLE];
    let digests = |texts: &[&str]| {
        let digest = |text: &&str| {
            let digest = STANDARD.encode(Sha256::digest(text.as_bytes()));
            format!("'sha256-{digest}'")
        };
        texts.iter().map(digest).collect::<Vec<_>>().join(" ")
    };
    let policy = format!(
        "default-src 'none'; script-src {}; style-src {}; img-src data:; connect-src 'self'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'none'",
        digests(&scripts),
        digests(&styles)
    );
    let within = |element: &str, texts: &[&str]| -> String {
        let text = |text: &&str| format!("<{element}>{text}</{element}>\n");
        texts.iter().map(text).collect()
    };
    let page = BODY
        .replace("{styles}", &within("style", &styles))
        .replace("{view}", &viewer_markup(&ENGLISH.viewer))
        .replace("{scripts}", &within("script", &scripts));
    (page, policy)
}
