//! Relative paths with `/` between names, as artifacts and manifests hold them.

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
        if name
            .chars()
            .any(|c| c.is_control() || "\\:*?\"<>|".contains(c))
        {
            return Err("it holds a character that file names cannot have everywhere");
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::check_relative;

    #[test]
    fn only_paths_that_stay_below_are_let_through() {
        for good in ["door.dxf", "a/b.back.svg", "..a", "a..b/é.pdf"] {
            assert_eq!(check_relative(good), Ok(()), "{good}");
        }
        for bad in [
            "", "/etc/x", "../x", "a/../x", "a//b", "a/", ".", "a\\b", "c:x", "a\nb", "a.", "nul\0",
        ] {
            assert!(check_relative(bad).is_err(), "{bad:?}");
        }
    }
}
