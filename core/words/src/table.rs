//! Tables of words: each entry with its words in every language, side by side. An entry that lacks a language does not
//! compile.

/// Declares a struct of words, and its table in each language: `name: "English", "German";`. `{}` stands for what is put
/// in, in order; `{1}` for the first, wherever it stands.
macro_rules! table {
    ($(#[$meta:meta])* pub struct $name:ident { $($field:ident: $english:literal, $german:literal;)+ }) => {
        $(#[$meta])*
        #[derive(Debug, PartialEq, Eq)]
        pub struct $name {
            $(#[doc = $english] pub $field: &'static str,)+
        }

        impl $name {
            /// In English.
            pub const ENGLISH: Self = Self { $($field: $english,)+ };
            /// In German.
            pub const GERMAN: Self = Self { $($field: $german,)+ };

            /// Every entry by its name, in the order of the table.
            pub fn entries(&self) -> Vec<(&'static str, &'static str)> {
                vec![$((stringify!($field), self.$field)),+]
            }
        }
    };
}

pub(crate) use table;

/// A sentence with what is put in.
pub fn said(template: &str, put_in: &[&str]) -> String {
    let mut words = String::with_capacity(template.len() + 20);
    let mut rest = template;
    let mut next = 0;
    while let Some(at) = rest.find('{') {
        words.push_str(&rest[..at]);
        let inside = &rest[at + 1..];
        let end = inside.find('}').unwrap_or(0);
        let index = if let Ok(place) = inside[..end].parse::<usize>() {
            place - 1
        } else {
            next += 1;
            next - 1
        };
        words.push_str(put_in.get(index).copied().unwrap_or_default());
        rest = &inside[end + 1..];
    }
    words.push_str(rest);
    words
}

/// What is put into a template where a text is the template filled in; none where it is not. Each gap takes as little as
/// it can.
pub fn put_in<'a>(template: &str, text: &'a str) -> Option<Vec<&'a str>> {
    let mut pieces = template.split("{}");
    let mut rest = text.strip_prefix(pieces.next()?)?;
    let mut found = Vec::new();
    let mut pieces = pieces.peekable();
    while let Some(piece) = pieces.next() {
        let at = if pieces.peek().is_none() {
            rest.strip_suffix(piece)?.len()
        } else {
            rest.find(piece)?
        };
        found.push(&rest[..at]);
        rest = &rest[at + piece.len()..];
    }
    rest.is_empty().then_some(found)
}

#[cfg(test)]
mod tests {
    use super::{put_in, said};

    #[test]
    fn gaps_are_filled_in_order_or_by_number() {
        assert_eq!(said("{} of {}", &["a", "b"]), "a of b");
        assert_eq!(said("{2} von {1}", &["a", "b"]), "b von a");
        assert_eq!(said("{}", &[]), "");
    }

    #[test]
    fn what_was_put_in_is_found_again() {
        assert_eq!(
            put_in("runner {} of {}", "runner 2 of chest"),
            Some(vec!["2", "chest"])
        );
        assert_eq!(put_in("Top", "Top"), Some(vec![]));
        assert_eq!(put_in("Top", "Top shelf"), None);
        assert_eq!(put_in("edge of {}", "edge"), None);
    }
}
