//! What a document says of itself, beside what is on its pages.

/// What a document says of itself.
#[derive(Debug, Default)]
pub(crate) struct DocumentFacts {
    /// Its title.
    pub(crate) title: String,
    /// What readers list to jump to, each with the number of its page from 0.
    pub(crate) bookmarks: Vec<(String, usize)>,
    /// The name of each page; none where pages go by their numbers.
    pub(crate) labels: Vec<String>,
    /// Whether it is to be printed on one side of the paper.
    pub(crate) one_sided: bool,
}

impl DocumentFacts {
    /// A document that says no more than its title.
    pub(crate) fn titled(title: &str) -> Self {
        Self {
            title: title.to_owned(),
            ..Self::default()
        }
    }
}
