//! The front page and the manual say what the program is, and nothing that it is not.
//!
//! Run with `JIGLESS_ACCEPT=1` to write what is made of them anew.

use jigless_tests::fixtures::workspace;
use jigless_tests::manual::{Page, lines_to_read, links, made, pages, unknown};
use jigless_tests::program::{jigless, run};

/// The manual, and the documents beside it.
fn documents() -> Vec<Page> {
    let mut all = pages();
    all.push(Page::read("README.md"));
    all.push(Page::read("DEVELOPERS.md"));
    all
}

#[test]
fn what_is_made_of_each_page_is_as_the_program_and_the_plans_have_it() {
    let accept = std::env::var_os("JIGLESS_ACCEPT").is_some();
    let mut behind = Vec::new();
    for page in documents() {
        let made = made(&page);
        if made == page.text {
            continue;
        }
        if accept {
            std::fs::write(workspace().join(&page.path), &made).expect("a page can be written");
        } else {
            behind.push(page.path);
        }
    }
    assert!(
        behind.is_empty(),
        "{behind:?} are behind: run JIGLESS_ACCEPT=1 cargo test -p jigless-tests --test manual"
    );
}

#[test]
fn every_link_leads_somewhere() {
    let all = documents();
    let broken: Vec<String> = all
        .iter()
        .flat_map(|page| links::broken(page, &all))
        .collect();
    assert!(broken.is_empty(), "{broken:#?}");
}

#[test]
fn every_command_and_option_that_is_written_of_is_there() {
    let wrong: Vec<String> = documents().iter().flat_map(unknown).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A plan in a page that stands nowhere else would be checked by nobody.
#[test]
fn every_plan_in_a_page_is_quoted_from_a_file() {
    for page in documents() {
        let mut quoted = false;
        let mut code = false;
        for line in page.text.lines() {
            match line {
                "```yaml" if !quoted => code = true,
                "```" => code = false,
                _ if line.starts_with("<!-- end of ") => quoted = false,
                _ if line.starts_with("<!-- ") => quoted = true,
                _ if code => assert!(line.starts_with('#'), "{}: {line}", page.path),
                _ => {}
            }
        }
    }
}

#[test]
fn pages_are_short_where_they_are_read_from_end_to_end() {
    for page in pages() {
        let lines = lines_to_read(&page);
        assert!(lines <= 300, "{} has {lines} lines", page.path);
    }
    let front = Page::read("README.md").text.lines().count();
    assert!(front <= 250, "README.md has {front} lines");
}

#[test]
fn every_page_but_the_index_is_printed_by_the_program() {
    let listed = run(jigless(&workspace()).arg("manual")).done().stdout;
    for page in pages().iter().filter(|page| page.topic() != "index") {
        let topic = page.topic();
        assert!(
            listed
                .lines()
                .any(|line| line.starts_with(&format!("  {topic} "))),
            "{topic} is not listed:\n{listed}"
        );
        let printed = run(jigless(&workspace()).args(["manual", topic]))
            .done()
            .stdout;
        assert!(printed.starts_with(page.title()), "{topic}: {printed}");
        assert!(!printed.contains('\u{1b}'), "{topic} is coloured in a pipe");
        assert!(!printed.contains("<!--"), "{topic} shows its remarks");
    }
}

#[test]
fn a_misspelt_topic_is_reported_with_the_nearest_one() {
    let run = run(jigless(&workspace()).args(["manual", "tutoral"]));
    assert_eq!(run.code, Some(2));
    assert!(run.stderr.contains("`tutorial`"), "{}", run.stderr);
    assert_eq!(run.stdout, "");
}
