//! Where a value comes from that is not the author's.

/// Where a default comes from, and so how far it can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// What the trade does; there is no text to name.
    CommonPractice,
    /// What the trade does, and the rule that it follows: `half the thickness`.
    Rule(&'static str),
    /// What the trade does within a system that has a name: `32 mm system`.
    System(&'static str),
    /// A standard, handbook or article, and what is found there.
    Published(&'static str),
}

impl Source {
    /// What the manual says of it.
    pub fn sentence(self) -> String {
        const PRACTICE: &str = "common practice, no source";
        match self {
            Source::CommonPractice => PRACTICE.to_owned(),
            Source::Rule(rule) => format!("{PRACTICE}: {rule}"),
            Source::System(name) => format!("{name}, {PRACTICE}"),
            Source::Published(text) => text.to_owned(),
        }
    }
}
