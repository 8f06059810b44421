//! Titles and labels that builders and joints gave, found among what a plan holds and said in a language.

use crate::table::{put_in, said};
use crate::{ENGLISH, Words};

impl Words {
    /// A title or label in this language where a builder or joint may have given it; any other stays as it is.
    pub fn built(&self, text: &str) -> String {
        if self.tag == ENGLISH.tag {
            return text.to_owned();
        }
        let own = self.built.entries();
        let mut both = ENGLISH.built.entries().into_iter().zip(own);
        let found = both.find_map(|((_, english), (_, own))| {
            let names = put_in(english, text)?;
            // What is put in is a name of the plan, a number with its unit, or a title that is built itself.
            let is_one =
                |name: &&str| !name.contains(' ') || name.starts_with(|c: char| c.is_ascii_digit());
            let is_built = |name: &&str| is_one(name) || self.built(name) != **name;
            names.iter().all(is_built).then_some((own, names))
        });
        let Some((own, names)) = found else {
            return text.to_owned();
        };
        let names: Vec<String> = names.into_iter().map(|name| self.part_of(name)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        said(own, &names)
    }
}

impl Words {
    /// What was put into a title: a number has its mark, a title that is built itself is said in the language.
    fn part_of(&self, name: &str) -> String {
        if name.starts_with(|letter: char| letter.is_ascii_digit()) {
            self.number(name)
        } else {
            self.built(name)
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::{ENGLISH, GERMAN};

    #[test]
    fn what_builders_write_is_said_in_the_language() {
        assert_eq!(GERMAN.built("Left side"), "Linke Seite");
        assert_eq!(GERMAN.built("runner 2 of chest"), "Führung 2 von chest");
        assert_eq!(GERMAN.built("Deck for pots"), "Deck for pots");
        assert_eq!(
            GERMAN.built("Divider between the drawers"),
            "Divider between the drawers"
        );
        assert_eq!(
            GERMAN.built("Side, slots 0.122 in"),
            "Seite, Schlitze 0,122 in"
        );
        assert_eq!(ENGLISH.built("Left side"), "Left side");
    }
}
