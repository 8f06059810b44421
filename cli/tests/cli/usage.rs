use std::process::Stdio;

use jigless_core::export::Setting;

use crate::{Place, formats, ran};

#[test]
fn formats_lists_everything_there_is_to_set() {
    let place = Place::empty();
    let all = place.expect(0, &["formats"]).out;
    for exporter in jigless_exporters::EXPORTERS {
        let id = exporter.id();
        assert!(all.contains(id));
        let one = place.expect(0, &["formats", id]).out;
        assert!(all.contains(&one), "{id}");
        let words: Vec<&str> = one.split_whitespace().collect();
        let text = words.join(" ");
        assert!(text.contains(exporter.summary()), "{id}");
        for option in exporter.options() {
            let shown = format!(
                "{id}.{}={} {} Default: {}",
                option.key, option.accepts, option.help, option.default
            );
            assert!(text.contains(&shown), "{shown}\n{text}");
        }
    }
}

#[test]
fn what_there_is_not_ends_with_2_and_the_nearest_word() {
    let place = Place::with_jars();
    let id = formats()[0];
    let near = format!("{}x", &id[..id.len() - 1]);
    let did = format!("did you mean `{id}`?");
    for args in [
        &["formats", &near][..],
        &["export", "jars", "--to", &near],
        &["export", "jars", "--set", &format!("{near}.a=1")],
        &["check", "jars", "--to", &near],
    ] {
        let ran = place.expect(2, args);
        assert!(ran.err.contains(&did), "{args:?}\n{}", ran.err);
    }
    for args in [
        &["export"][..],
        &["export", "nowhere"],
        &["export", "jars", "--jobs", "0"],
        &["export", "jars", "--date", "tomorrow"],
        &["export", "jars", "--set", "a.b"],
        &["frobnicate"],
    ] {
        let ran = place.expect(2, args);
        assert!(!ran.err.is_empty(), "{args:?}");
    }
    assert!(place.tree("out").is_empty());
}

/// Whether an option takes no free text.
fn refuses_a_snowman(id: &str, key: &str) -> bool {
    let setting = Setting {
        key: key.to_owned(),
        value: "\u{2603}".into(),
    };
    let exporter = jigless_exporters::exporter(id).unwrap();
    exporter.configure(&[setting]).is_err()
}

#[test]
fn options_are_settled_before_anything_is_written() {
    let place = Place::with_jars();
    let (id, key) = jigless_exporters::EXPORTERS
        .iter()
        .flat_map(|exporter| {
            exporter
                .options()
                .into_iter()
                .map(|o| (exporter.id(), o.key))
        })
        .find(|(id, key)| refuses_a_snowman(id, key))
        .unwrap();
    let ran = place.expect(2, &["export", "jars", "--set", &format!("{id}.{key}x=1")]);
    assert!(
        ran.err.contains(&format!("did you mean `{key}`?")),
        "{}",
        ran.err
    );
    place.expect(
        1,
        &["export", "jars", "--set", &format!("{id}.{key}=\u{2603}")],
    );
    place.file(
        "mill.yaml",
        &format!("export:\n  {id}:\n    {key}: \"\u{2603}\"\n"),
    );
    let ran = place.expect(1, &["export", "jars", "--profile", "mill.yaml"]);
    let column = 5 + key.len() + 2;
    assert!(
        ran.err.contains(&format!("mill.yaml:3:{column}")),
        "{}",
        ran.err
    );
    place.expect(3, &["export", "jars", "--profile", "none.yaml"]);
    assert!(place.tree("out").is_empty());
}

#[test]
fn a_pipe_gets_no_colours_and_no_progress() {
    let place = Place::with_jars();
    place.file("bad/plan.yaml", "jigless: 1\nunits: [\n");
    let piped = place.expect(1, &["export", "jars", "bad"]);
    assert!(!piped.out.contains('\u{1b}') && !piped.err.contains('\u{1b}'));
    assert!(
        piped.err.starts_with("bad/plan.yaml:2:8: error: "),
        "{}",
        piped.err
    );
    let coloured = |no_color: Option<&str>| {
        let mut command = place.command(&["check", "bad"]);
        command.env("CLICOLOR_FORCE", "1").env_remove("NO_COLOR");
        command.envs(no_color.map(|value| ("NO_COLOR", value)));
        ran(&mut command).err.contains('\u{1b}')
    };
    assert!(coloured(None));
    assert!(!coloured(Some("1")));
    let quiet = place.expect(0, &["export", "jars", "--quiet"]);
    assert_eq!((quiet.out.as_str(), quiet.err.as_str()), ("", ""));
}

#[test]
fn help_tells_the_exit_status() {
    let place = Place::empty();
    for args in [&["--help"][..], &["export", "--help"], &["check", "--help"]] {
        let ran = place.expect(0, args);
        assert!(ran.out.contains("Exit status:"), "{args:?}");
    }
}

#[cfg(unix)]
#[test]
fn a_reader_that_has_gone_is_no_fault_and_a_full_disk_is() {
    let place = Place::with_jars();
    for args in [&["formats"][..], &["check", "jars"], &["export", "jars"]] {
        let mut command = place.command(args);
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let child = command
            .stdout(writer)
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        assert!(output.stderr.is_empty(), "{args:?}");
    }
    #[cfg(target_os = "linux")]
    {
        let full = std::fs::File::options()
            .write(true)
            .open("/dev/full")
            .unwrap();
        let status = place
            .command(&["formats"])
            .stdout(full)
            .stderr(Stdio::null())
            .status();
        assert_eq!(status.unwrap().code(), Some(3));
    }
}

#[test]
fn completions_and_manual_pages_know_every_command() {
    let place = Place::empty();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let text = place.expect(0, &["completions", shell]).out;
        for command in ["export", "watch", "formats"] {
            assert!(text.contains(command), "{shell}: {command}");
        }
    }
    place.expect(0, &["man", "pages"]);
    let pages = place.tree("pages");
    for page in ["jigless.1", "jigless-export.1", "jigless-watch.1"] {
        assert!(pages.contains_key(page), "{:?}", pages.keys());
    }
    assert!(place.read("pages/jigless-export.1").contains("shard"));
    let again = place.tree("pages");
    place.expect(0, &["man", "pages"]);
    assert_eq!(place.tree("pages"), again);
}

#[test]
fn the_version_names_the_commit_where_there_is_one() {
    let place = Place::empty();
    let version = place.expect(0, &["--version"]).out;
    let version = version.trim_end();
    let rest = version.strip_prefix("jigless ").unwrap();
    let rest = rest.strip_prefix(env!("CARGO_PKG_VERSION")).unwrap();
    if !rest.is_empty() {
        let commit = rest
            .strip_prefix(" (commit ")
            .and_then(|rest| rest.strip_suffix(')'));
        let commit = commit.unwrap_or_else(|| panic!("{version}"));
        let hash = commit.trim_end_matches(", changed since");
        assert!(
            hash.len() >= 12 && hash.chars().all(|c| c.is_ascii_hexdigit()),
            "{version}"
        );
    }
}
