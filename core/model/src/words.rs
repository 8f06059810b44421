//! Enums whose variants are words of a plan: each word is written once, beside its variant.

/// What one of some words of a plan stands for.
pub trait Word: Copy + 'static {
    /// Every word, in the order in which messages and the manual list them.
    const WORDS: &'static [&'static str];

    /// What a word stands for.
    fn of_word(word: &str) -> Option<Self>;
}

/// Declares an enum with the word of each variant: `Front = "front"`.
///
/// The enum gets `ALL` (in the order of its declaration), `name` (the word of a variant) and [`Word`].
#[macro_export]
macro_rules! words {
    (
        $(#[$meta:meta])*
        $vis:vis enum $name:ident {
            $($(#[$variant_meta:meta])* $variant:ident = $word:literal),+ $(,)?
        }
    ) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        $vis enum $name {
            $($(#[$variant_meta])* $variant),+
        }

        #[allow(dead_code, reason = "some words are only read, and never listed or printed")]
        impl $name {
            /// Every one, in the order of the words.
            $vis const ALL: [$name; [$($word),+].len()] = [$($name::$variant),+];

            /// The word in a plan.
            $vis const fn name(self) -> &'static str {
                match self {
                    $($name::$variant => $word),+
                }
            }
        }

        impl $crate::words::Word for $name {
            const WORDS: &'static [&'static str] = &[$($word),+];

            fn of_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some($name::$variant),)+
                    _ => None,
                }
            }
        }
    };
}
