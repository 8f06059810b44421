//! What strangers may put into plans, names and folders, and what they cannot bring about by it.

use std::fs;

use crate::{Place, plan};

#[test]
fn no_command_overwrites_without_force() {
    let place = Place::with_jars();
    place.file(
        "old/plan.yaml",
        &plan("Jars", &["door", "shelf"]).replace("width: 296", "width: 300"),
    );
    for (args, victim) in [
        (&["coupon", "--out", "made"][..], "made/coupon.svg"),
        (&["man", "pages"], "pages/jigless-check.1"),
        (&["diff", "old", "jars", "--out", "drawn"], "drawn/door.svg"),
        (&["print-check", "--out", "sheet.pdf"], "sheet.pdf"),
    ] {
        place.expect(0, args);
        let good = place.read_bytes(victim);
        // Once more there is nothing to overwrite.
        place.expect(0, args);
        place.file(victim, "mine");
        let refused = place.expect(3, args);
        assert!(refused.err.contains("--force"), "{}", refused.err);
        assert_eq!(place.read(victim), "mine", "{args:?}");
        place.expect(0, &[args, &["--force"]].concat());
        assert_eq!(place.read_bytes(victim), good, "{args:?}");
    }
}

#[cfg(unix)]
#[test]
fn a_profile_that_is_a_link_out_of_its_folder_is_refused() {
    use std::os::unix::fs::symlink;
    let place = Place::with_jars();
    place.file("secret.yaml", "password: 1\n");
    fs::create_dir(place.path("shop")).unwrap();
    symlink("../secret.yaml", place.path("shop/mill.yaml")).unwrap();
    let refused = place.expect(3, &["check", "jars", "--profile", "shop/mill.yaml"]);
    assert!(
        refused.err.contains("leads out of its folder"),
        "{}",
        refused.err
    );
    assert!(!refused.err.contains("password"), "{}", refused.err);
}

#[cfg(unix)]
#[test]
fn a_pipe_is_no_drawing() {
    let place = Place::empty();
    let made = std::process::Command::new("mkfifo")
        .arg(place.path("a.dxf"))
        .status();
    if made.is_ok_and(|status| status.success()) {
        let refused = place.expect(3, &["inspect", "a.dxf"]);
        assert!(refused.err.contains("pipe or device"), "{}", refused.err);
    }
    let refused = place.expect(3, &["inspect", "/dev/zero"]);
    assert!(refused.err.contains("pipe or device"), "{}", refused.err);
}

/// Colours are forced, as on a terminal: what remains of escapes is our own.
#[cfg(unix)]
#[test]
fn hostile_texts_do_not_steer_the_terminal() {
    const HOSTILE: &str = "\u{1b}[2J\u{9b}31m\u{7f}\u{202e}\u{2066}";
    let place = Place::empty();
    let odd = format!("jars{HOSTILE}");
    place.file(&format!("lib/{odd}/plan.yaml"), &plan("Jars", &["door"]));
    place.file(
        "jars/plan.yaml",
        &plan("Jars", &["door"]).replace("door:", &format!("\"d{}\":", "\u{202e}\u{2066}")),
    );
    place.file("svg.svg", &format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\"><g id=\"a{}\"><path d=\"M0 0L5 5\"/></g></svg>",
        "\u{202e}\u{9b}"
    ));
    for args in [
        &["check", "lib", "jars"][..],
        &["export", "lib", "jars"],
        &["check", "lib", "jars", "--findings", "lines"],
        &["check", "lib", "jars", "--findings", "sarif"],
        &["inspect", "svg.svg"],
        &["inspect", odd.as_str()],
        &["formats", odd.as_str()],
        &["why", odd.as_str()],
        &["expand", "jars"],
        &["check", odd.as_str()],
    ] {
        let mut command = place.command(args);
        command.env("CLICOLOR_FORCE", "1").env_remove("NO_COLOR");
        let ran = crate::ran(&mut command);
        for text in [&ran.out, &ran.err] {
            let steers = |c: char| {
                c != '\n' && c != '\u{1b}' && c.is_control()
                    || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
            };
            assert!(!text.contains(steers), "{args:?}\n{text:?}");
            // Only styles: `ESC [`, numbers, `m`.
            for rest in text.split('\u{1b}').skip(1) {
                let end = rest.find(|c: char| !c.is_ascii_digit() && c != ';' && c != '[');
                assert_eq!(
                    rest.chars().nth(end.unwrap_or(0)),
                    Some('m'),
                    "{args:?}\n{text:?}"
                );
            }
        }
    }
}
