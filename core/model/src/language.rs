//! The languages that booklet and page are written in.

crate::words! {
    /// A language, by its tag (BCP 47).
    pub enum Language {
        /// English.
        English = "en",
        /// German.
        German = "de",
    }
}
