//! Documents in German: nothing is left in English but what the author wrote, and every number has its comma.

use std::collections::BTreeSet;

use jigless_tests::fixtures::{files_of, workspace};
use jigless_tests::program::export_all;
use jigless_words::{ENGLISH, GERMAN};

/// Plans that between them have every builder, joint and kind of work, in both units, with costs and finishes.
const PLANS: [&str; 10] = [
    "glaze-cabinet",
    "glazing-trolley",
    "thread-organiser",
    "cutting/fabric-shelves",
    "features/document",
    "features/finish",
    "features/joints",
    "features/pocket-holes",
    "features/tray-in-a-drawer",
    "cutting/kiln-shelves",
];

/// The files of a plan, which hold all that the author wrote.
fn written_by_the_author(plan: &str) -> String {
    let files = files_of(&workspace().join("fixtures").join(plan), "yaml");
    let text = files
        .into_iter()
        .map(|(_, bytes)| String::from_utf8(bytes).expect("UTF-8"));
    let text = text.collect::<Vec<_>>().join(" ");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a page without its markup, a line for each element that holds words of its own.
fn words_of(page: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let body = page.split("<body>").nth(1).expect("a body");
    let mut rest = body;
    while let Some(at) = rest.find('<') {
        lines.push(&rest[..at]);
        let end = rest[at..].find('>').expect("an end of a tag") + at;
        let tag = &rest[at..=end];
        for said in [
            "aria-label=\"",
            "title=\"",
            "alt=\"",
            "data-drawing=\"",
            "data-step=\"",
        ] {
            lines.extend(tag.split(said).nth(1).and_then(|own| own.split('"').next()));
        }
        rest = &rest[end + 1..];
        for name in ["script", "style"] {
            if tag.starts_with(&format!("<{name}")) {
                rest = &rest[rest.find("</").expect("an end")..];
            }
        }
    }
    let plain = |line: &str| {
        let words = line
            .replace("&quot;", "\"")
            .replace("&#39;", "'")
            .replace("&amp;", "&");
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    lines
        .into_iter()
        .map(plain)
        .filter(|line| !line.is_empty())
        .collect()
}

/// Whether some words stand in a line, and not the beginning or end of others.
fn has_words(line: &str, words: &str) -> bool {
    line.match_indices(words).any(|(at, _)| {
        let ends = |letter: Option<char>| !letter.is_some_and(char::is_alphanumeric);
        ends(line[..at].chars().next_back()) && ends(line[at + words.len()..].chars().next())
    })
}

/// What of the English tables stands in some lines: a sentence in any place, a single word where it stands alone.
fn english_in(lines: &[String], authors: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let pairs = ENGLISH.entries().into_iter().zip(GERMAN.entries());
    for ((name, english), (_, german)) in pairs.filter(|((_, a), (_, b))| a != b) {
        let pieces = english.split(['{', '}']);
        for piece in pieces.map(|piece| piece.trim_matches([' ', ',', ';', ':', '.', '('])) {
            let is_sentence = piece.split_whitespace().count() > 1;
            if piece
                .chars()
                .filter(|letter| letter.is_alphabetic())
                .count()
                < 4
                || german.contains(piece)
                || authors.contains(piece)
            {
                continue;
            }
            for line in lines {
                let alone =
                    !is_sentence && line.split([',', ':', ';']).any(|own| own.trim() == piece);
                if alone || (is_sentence && has_words(line, piece)) {
                    found.insert(format!("{name}: {piece}: {line}"));
                }
            }
        }
    }
    found
}

#[test]
fn german_pages_hold_no_english() {
    let out = tempfile::tempdir().expect("a temporary folder");
    let german = [
        "--quiet",
        "--to",
        "page-html",
        "--set",
        "page-html.language=de",
    ];
    export_all(&PLANS, out.path(), &german);
    let pages = files_of(out.path(), "html");
    assert_eq!(pages.len(), PLANS.len());
    for (path, bytes) in pages {
        let page = String::from_utf8(bytes).expect("UTF-8");
        assert!(page.contains("<html lang=\"de\">"), "{path}");
        let plan = PLANS
            .iter()
            .find(|plan| path.starts_with(plan.rsplit('/').next().expect("a name")));
        let plan = plan.expect("a plan of ours");
        let lines = words_of(&page);
        let authors = written_by_the_author(plan);
        let found = english_in(&lines, &authors);
        assert!(
            found.is_empty(),
            "{path}:\n{}",
            found.into_iter().collect::<Vec<_>>().join("\n")
        );
        for line in &lines {
            let with_point = |word: &&str| {
                let digits = |half: Option<&str>, first: bool| {
                    let mut letters = half.unwrap_or_default().chars();
                    let letter = if first {
                        letters.next()
                    } else {
                        letters.next_back()
                    };
                    letter.is_some_and(|letter| letter.is_ascii_digit())
                };
                let mut halves = word.splitn(2, '.');
                digits(halves.next(), false) && digits(halves.next(), true)
            };
            let mut numbers = line.split_whitespace().filter(with_point);
            let wrong =
                numbers.find(|number| !authors.contains(number.trim_matches([',', ')', '('])));
            assert_eq!(wrong, None, "{path}: {line}");
        }
    }
}
