//! Relative paths with `/` between names, as artifacts, plans and manifests hold them, and which of them some systems take
//! for one another.

use unicode_normalization::UnicodeNormalization;

use crate::styled::steers;

/// The longest name in bytes that all usual file systems take.
const LONGEST: usize = 255;
/// Device names that cannot be files on Windows, whatever follows the dot (Microsoft, "Naming Files, Paths, and
/// Namespaces"; from memory).
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];
/// The beginnings of further ones, which a digit follows.
const NUMBERED_DEVICES: [&str; 2] = ["com", "lpt"];

/// Refuses a path that could lead out of its folder, or that some systems cannot hold.
///
/// # Errors
/// What is wrong with it, in plain words.
pub fn check_relative(path: &str) -> Result<(), &'static str> {
    for name in path.split('/') {
        if name.is_empty() {
            return Err("it is empty, starts or ends with `/`, or has two of them together");
        }
        if name == "." || name == ".." {
            return Err("it may not hold `.` or `..`");
        }
        if name.ends_with(['.', ' ']) {
            return Err("no name in it may end in a dot or space");
        }
        if name.chars().any(|c| steers(c) || "\\:*?\"<>|".contains(c)) {
            return Err("it holds a character that file names cannot have everywhere");
        }
        if name.len() > LONGEST {
            return Err("a name in it is longer than 255 bytes");
        }
        if is_device(name) {
            return Err("a name in it is that of a device on some systems");
        }
    }
    Ok(())
}

fn is_device(name: &str) -> bool {
    let stem = name
        .split('.')
        .next()
        .unwrap_or_default()
        .trim_end()
        .to_ascii_lowercase();
    let numbered = NUMBERED_DEVICES.iter().any(|device| {
        let number = stem.strip_prefix(device);
        number.is_some_and(|n| n.len() == 1 && n.bytes().all(|b| b.is_ascii_digit()))
    });
    numbered || DEVICES.contains(&stem.as_str())
}

/// A path in a form that is the same for all paths that some system takes for one file: many do not tell upper from lower
/// case, and some not an accented letter from a letter and its accent.
pub fn folded(path: &str) -> String {
    // Twice, since the upper case of a letter may be several, and has its accents in another order.
    let upper = path.nfd().collect::<String>().to_lowercase().to_uppercase();
    upper.to_lowercase().nfd().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_paths_that_stay_below_are_let_through() {
        for good in [
            "door.dxf",
            "a/b.back.svg",
            "..a",
            "a..b/é.pdf",
            "jar shelf",
            "console",
            "com10",
            "icon.con",
        ] {
            assert_eq!(check_relative(good), Ok(()), "{good}");
        }
        for bad in [
            "",
            "/etc/x",
            "../x",
            "a/../x",
            "a//b",
            "a/",
            ".",
            "a\\b",
            "c:x",
            "a\nb",
            "a.",
            "nul\0",
            "a:b",
            "CON",
            "a/con.pdf",
            "Lpt1",
            "nul .x",
            "a\u{202e}b",
        ] {
            assert!(check_relative(bad).is_err(), "{bad:?}");
        }
        assert!(check_relative(&"x".repeat(256)).is_err());
    }

    #[test]
    fn names_that_some_system_takes_for_one_are_one() {
        for (one, other) in [
            ("Jars", "jars"),
            ("k\u{fc}che", "ku\u{308}che"),
            ("K\u{dc}CHE", "ku\u{308}che"),
            ("stra\u{df}e", "STRASSE"),
            ("\u{212a}iln", "kiln"),
        ] {
            assert_eq!(folded(one), folded(other), "{one} {other}");
        }
        assert_ne!(folded("kuche"), folded("k\u{fc}che"));
    }
}
