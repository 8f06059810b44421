//! Codes of findings: stable names that can only be made where they are declared, with what they mean.
//!
//! [`codes!`](crate::codes) declares the codes of a crate; a check declares its own beside what it measures. Whoever
//! writes a code that nobody declares is stopped by the compiler.

use std::fmt;

crate::words! {
    /// How much a finding matters.
    #[derive(PartialOrd, Ord, Hash, serde::Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Severity {
        /// Worth knowing; nothing is wrong.
        Note = "note",
        /// The plan can be exported, and something in it is likely to go wrong in the shop.
        Warning = "warning",
        /// Nothing is exported until it is put right.
        Error = "error",
    }
}

/// The stable name of a finding, in kebab case: it names the offence and is never used again for another one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(&'static str);

impl Code {
    /// Declares a code. For [`codes!`](crate::codes) and for checks; everything else takes a code that is declared.
    ///
    /// # Panics
    /// While compiling, when the name is not in kebab case.
    pub const fn declare(name: &'static str) -> Self {
        assert!(is_kebab(name.as_bytes()), "a code is in kebab case");
        Self(name)
    }

    /// The name.
    pub const fn as_str(self) -> &'static str {
        self.0
    }
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.0)
    }
}

impl PartialEq<str> for Code {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for Code {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

const fn is_kebab(name: &[u8]) -> bool {
    let mut at = 0;
    while at < name.len() {
        let joins = name[at] == b'-' && at > 0 && at + 1 < name.len() && name[at - 1] != b'-';
        if !(name[at].is_ascii_lowercase() || joins) {
            return false;
        }
        at += 1;
    }
    !name.is_empty()
}

/// Whether a constant is called as its code is: `BAD_CUT` for `bad-cut`.
#[doc(hidden)]
pub const fn names(constant: &str, code: &str) -> bool {
    let (constant, code) = (constant.as_bytes(), code.as_bytes());
    let mut at = 0;
    while at < constant.len() && at < code.len() {
        let same = match constant[at] {
            b'_' => code[at] == b'-',
            letter => letter.to_ascii_lowercase() == code[at],
        };
        if !same {
            return false;
        }
        at += 1;
    }
    constant.len() == code.len()
}

/// A fault that reading, lowering or exporting reports: a code that is not a check's.
#[derive(Debug, Clone, Copy)]
pub struct CodeKind {
    /// Its name.
    pub code: Code,
    /// The fault in one line.
    pub name: &'static str,
    /// How much it matters; this cannot be set.
    pub severity: Severity,
    /// Why it is one, and what to do.
    pub explanation: &'static str,
    /// A line of a plan that is found at fault; empty where the explanation says it all.
    pub example: &'static str,
}

/// Declares the codes of a crate: a constant for each, and `CODES`, the list of them in the order given.
///
/// ```
/// jigless_model::codes! {
///     BAD_CUT = Error "bad-cut":
///         "a cutout or notch that leaves no single part",
///         "What is cut away must leave one piece.",
///         "- cutout: {at: [0, 40], width: 200, height: 10}";
/// }
/// assert_eq!(BAD_CUT.as_str(), CODES[0].code.as_str());
/// ```
#[macro_export]
macro_rules! codes {
    ($(
        $constant:ident = $severity:ident $code:literal:
            $name:literal, $explanation:literal, $example:literal;
    )*) => {
        $(
            #[doc = $name]
            pub const $constant: $crate::code::Code = {
                assert!($crate::code::names(stringify!($constant), $code), "a constant is called as its code is");
                $crate::code::Code::declare($code)
            };
        )*

        /// Every code of this crate that is not a check's, in alphabetic order.
        pub static CODES: &[$crate::code::CodeKind] = &[$(
            $crate::code::CodeKind {
                code: $constant,
                name: $name,
                severity: $crate::code::Severity::$severity,
                explanation: $explanation,
                example: $example,
            },
        )*];
    };
}

#[cfg(test)]
mod tests {
    use super::{is_kebab, names};

    #[test]
    fn codes_are_in_kebab_case() {
        for good in ["a", "bad-cut", "hole-near-edge"] {
            assert!(is_kebab(good.as_bytes()), "{good}");
        }
        for bad in ["", "-", "a-", "-a", "a--b", "Bad", "a_b", "a b", "a1"] {
            assert!(!is_kebab(bad.as_bytes()), "{bad}");
        }
    }

    #[test]
    fn constants_are_called_as_their_codes() {
        assert!(names("BAD_CUT", "bad-cut"));
        assert!(!names("BAD_CUT", "bad-cuts") && !names("BADCUT", "bad-cut"));
    }
}
