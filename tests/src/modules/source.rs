//! One source file: its inline modules, what it declares, what it imports, and every path that it names. What is only
//! compiled for tests is left out, comments and texts are no tokens, and the insides of macro calls are read like
//! everything else.

use std::collections::BTreeSet;

use proc_macro2::{Delimiter, TokenStream, TokenTree};

/// What one module says, without its inline modules.
#[derive(Debug, Default)]
pub struct Source {
    /// Names that it declares: `fn name`, `struct Name`.
    pub items: BTreeSet<String>,
    /// Its imports.
    pub uses: Vec<Use>,
    /// Every path of two words or more that it names outside of imports.
    pub paths: Vec<Vec<String>>,
    /// Every single word outside of imports.
    pub words: BTreeSet<String>,
    /// Modules that are only compiled for tests.
    pub for_tests: Vec<String>,
    /// Modules that are written out within it.
    pub inner: Vec<(String, Source)>,
}

/// One name that a `use` brings in.
#[derive(Debug)]
pub struct Use {
    /// Whether it is handed on: `pub use`, `pub(crate) use`.
    pub public: bool,
    /// What is imported, without a `*` at its end.
    pub path: Vec<String>,
    /// What it is called here; `None` for `*`.
    pub name: Option<String>,
}

impl Source {
    /// Reads the text of a file.
    ///
    /// # Panics
    /// When it is not made of Rust's tokens.
    pub fn read(text: &str) -> Self {
        let tokens: TokenStream = text.parse().expect("a source file is made of tokens");
        let mut source = Source::default();
        let kept = source.without_tests(tokens);
        source.take_items(&kept);
        source
    }

    /// The tokens of a file without the items that `#[cfg(test)]` stands before.
    fn without_tests(&mut self, tokens: TokenStream) -> Vec<TokenTree> {
        let mut kept = Vec::new();
        let mut tokens = tokens.into_iter().peekable();
        while let Some(token) = tokens.next() {
            let attribute = match (is_sign(&token, '#'), tokens.peek()) {
                (true, Some(TokenTree::Group(group))) => {
                    group.stream().to_string().replace(' ', "")
                }
                _ => String::new(),
            };
            if attribute != "cfg(test)" {
                kept.push(token);
                continue;
            }
            // The attribute itself, and the item: up to its `;` or its body.
            tokens.next();
            let mut item = Vec::new();
            for token in tokens.by_ref() {
                let body =
                    matches!(&token, TokenTree::Group(g) if g.delimiter() == Delimiter::Brace);
                if body || is_sign(&token, ';') {
                    break;
                }
                item.push(token);
            }
            if let [.., keyword, name] = item.as_slice()
                && word(keyword).as_deref() == Some("mod")
            {
                self.for_tests.extend(word(name));
            }
        }
        kept
    }

    /// The items of a module: declarations, imports and inline modules; everything else is looked through for paths.
    fn take_items(&mut self, tokens: &[TokenTree]) {
        let mut public = false;
        let mut rest = tokens;
        while let [first, after @ ..] = rest {
            rest = after;
            // A lifetime: `'static` declares nothing.
            if is_sign(first, '\'') {
                rest = rest.get(1..).unwrap_or_default();
                continue;
            }
            match word(first).as_deref() {
                Some("pub") => {
                    public = true;
                    if let [TokenTree::Group(group), after @ ..] = rest
                        && group.delimiter() == Delimiter::Parenthesis
                    {
                        rest = after;
                    }
                    continue;
                }
                Some("use") => {
                    let end = rest.iter().position(|t| is_sign(t, ';'));
                    let (tree, after) = rest.split_at(end.unwrap_or(rest.len()));
                    self.take_use(public, &[], tree);
                    rest = after;
                }
                Some("mod") => {
                    if let [name, TokenTree::Group(body), after @ ..] = rest {
                        let mut inner = Source::default();
                        inner.take_items(&body.stream().into_iter().collect::<Vec<_>>());
                        self.inner.push((name.to_string(), inner));
                        rest = after;
                    } else if let [_, after @ ..] = rest {
                        rest = after;
                    }
                }
                Some(
                    "fn" | "struct" | "enum" | "union" | "trait" | "type" | "const" | "static",
                ) => {
                    self.items.extend(rest.first().and_then(word));
                }
                Some("macro_rules") => self.items.extend(rest.get(1).and_then(word)),
                _ => {}
            }
            public = false;
            rest = self.take_path(first, rest);
        }
    }

    /// Looks through code for paths and words.
    fn take_code(&mut self, tokens: &[TokenTree]) {
        let mut rest = tokens;
        while let [first, after @ ..] = rest {
            rest = after;
            if word(first).as_deref() == Some("use") {
                let end = rest.iter().position(|t| is_sign(t, ';'));
                let (tree, after) = rest.split_at(end.unwrap_or(rest.len()));
                self.take_use(false, &[], tree);
                rest = after;
            } else {
                rest = self.take_path(first, rest);
            }
        }
    }

    /// A path or word that begins with `first`, or the inside of a group; gives what comes after.
    fn take_path<'a>(&mut self, first: &TokenTree, after: &'a [TokenTree]) -> &'a [TokenTree] {
        if let TokenTree::Group(group) = first {
            self.take_code(&group.stream().into_iter().collect::<Vec<_>>());
            return after;
        }
        let Some(first) = word(first) else {
            return after;
        };
        let mut path = vec![first];
        let mut rest = after;
        while let [a, b, next, after @ ..] = rest
            && is_sign(a, ':')
            && is_sign(b, ':')
            && let Some(next) = word(next)
        {
            path.push(next);
            rest = after;
        }
        self.words.insert(path[0].clone());
        if path.len() > 1 {
            self.paths.push(path);
        }
        rest
    }

    /// The tree of a `use`, below the path that is known already.
    fn take_use(&mut self, public: bool, above: &[String], tokens: &[TokenTree]) {
        for branch in tokens.split(|token| is_sign(token, ',')) {
            let mut path = above.to_vec();
            let mut name = None;
            let mut rest = branch;
            while let [token, after @ ..] = rest {
                rest = after;
                match (token, word(token).as_deref()) {
                    (TokenTree::Group(group), _) => {
                        let inside: Vec<_> = group.stream().into_iter().collect();
                        self.take_use(public, &path, &inside);
                        path.clear();
                    }
                    (_, Some("as")) => {
                        name = rest.first().and_then(word);
                        break;
                    }
                    (_, Some("self")) if !path.is_empty() => {}
                    (_, Some(step)) => path.push(step.to_owned()),
                    _ => {}
                }
            }
            if path.is_empty() {
                continue;
            }
            let all = branch.last().is_some_and(|token| is_sign(token, '*'));
            let name = name.or_else(|| path.last().cloned());
            self.uses.push(Use {
                public,
                path,
                name: name.filter(|_| !all),
            });
        }
    }
}

fn word(token: &TokenTree) -> Option<String> {
    match token {
        TokenTree::Ident(ident) => Some(ident.to_string()),
        _ => None,
    }
}

fn is_sign(token: &TokenTree, sign: char) -> bool {
    matches!(token, TokenTree::Punct(punct) if punct.as_char() == sign)
}

#[cfg(test)]
mod tests {
    use super::Source;

    #[test]
    fn imports_paths_and_inline_modules_are_found_and_tests_and_comments_are_not() {
        let source = Source::read(
            r#"
            //! crate::comment::Here
            use crate::a::{self, b::C as D, e::*};
            pub(crate) use super::f::G;
            #[cfg(test)]
            use crate::only::Tests;
            pub mod inner { pub use other::H; }
            /// crate::comment::Here
            fn work(x: &'static crate::i::J) -> String { format!("crate::text::Here {}", crate::k::l(x)) }
            #[cfg(test)]
            mod tests { use crate::only::Tests; }
            #[cfg(test)]
            mod samples;
            "#,
        );
        let uses: Vec<_> = source
            .uses
            .iter()
            .map(|u| (u.public, u.path.join("::"), u.name.clone()))
            .collect();
        let named = |name: &str| Some(name.to_owned());
        assert_eq!(
            uses,
            [
                (false, "crate::a".to_owned(), named("a")),
                (false, "crate::a::b::C".to_owned(), named("D")),
                (false, "crate::a::e".to_owned(), None),
                (true, "super::f::G".to_owned(), named("G")),
            ]
        );
        let paths: Vec<_> = source.paths.iter().map(|path| path.join("::")).collect();
        assert_eq!(paths, ["crate::i::J", "crate::k::l"]);
        assert!(source.items.contains("work") && !source.items.contains("crate"));
        assert_eq!(source.for_tests, ["tests", "samples"]);
        assert_eq!(source.inner[0].0, "inner");
        assert_eq!(source.inner[0].1.uses[0].path, ["other", "H"]);
    }
}
