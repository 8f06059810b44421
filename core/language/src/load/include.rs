//! Reading the files that a plan includes, without touching a disk here.

/// Gives the content of files beside a plan.
pub trait IncludeReader {
    /// The content of a file, named by its path below the plan's folder with `/` between names.
    ///
    /// # Errors
    /// Why it cannot be read, in plain words.
    fn read(&self, path: &str) -> Result<Vec<u8>, String>;
}

/// For plans that stand alone: nothing can be included.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoIncludes;

impl IncludeReader for NoIncludes {
    fn read(&self, _path: &str) -> Result<Vec<u8>, String> {
        Err("this plan is not read from a folder".to_owned())
    }
}

/// Refuses paths that could leave the plan's folder on any system.
///
/// # Errors
/// What is wrong with the path, in plain words.
pub fn check_include_path(path: &str) -> Result<(), &'static str> {
    let drive = path.as_bytes().get(1) == Some(&b':');
    if path.is_empty() {
        Err("it is empty")
    } else if path.starts_with('/') || path.starts_with('~') || drive {
        Err("it is not relative to the plan's folder")
    } else if path.contains('\\') {
        Err("it has a backslash; write / between folder names")
    } else if path.chars().any(char::is_control) {
        Err("it has a control character")
    } else if path.split('/').any(|name| name == "..") {
        Err("`..` leads out of the plan's folder")
    } else if path.split('/').any(|name| name.is_empty() || name == ".") {
        Err("it has an empty name or `.` in it")
    } else {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::check_include_path;

    #[test]
    fn only_paths_below_the_folder_pass() {
        for good in ["tray.yaml", "stock/sheet.yaml", "a.b/..c.yaml"] {
            assert_eq!(check_include_path(good), Ok(()), "{good}");
        }
        for bad in [
            "",
            "/etc/x",
            "../x",
            "a/../../x",
            "C:/x",
            "c:x",
            "a\\b",
            "~/x",
            "a//b",
            "./a",
            "a\nb",
        ] {
            assert!(check_include_path(bad).is_err(), "{bad}");
        }
    }
}
