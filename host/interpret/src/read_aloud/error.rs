//! Why a code cannot be restored.

use thiserror::Error;

/// Why a code cannot be restored. Symbols are counted from 1, without hyphens.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum CodeError {
    /// Something that is no symbol.
    #[error("`{}`, in place {at}, is none of a code's symbols{}", found.escape_debug(), if matches!(found, 'u' | 'U') { ": it has no U" } else { "" })]
    NotInAlphabet {
        /// As it was written.
        found: char,
        /// Where.
        at: usize,
    },
    /// Among words that spell symbols, one that does not.
    #[error("`{}` spells no symbol", shortened(found))]
    NotAWord {
        /// As it was written.
        found: String,
    },
    /// Symbols are missing, or there are too many.
    #[error("there are {found} symbols, and {} needed", needed_told(needed))]
    WrongLength {
        /// So many were given.
        found: usize,
        /// So many it must be, one of these.
        needed: Vec<usize>,
    },
    /// One symbol does not fit the others; or at least three are wrong.
    #[error("symbol {at}, `{read}`, does not fit the others; `{perhaps}` would")]
    OneWrong {
        /// Which.
        at: usize,
        /// As it was read.
        read: char,
        /// What would fit there: to be asked, never to be taken.
        perhaps: char,
    },
    /// More than one symbol is wrong, or two are exchanged.
    #[error("its symbols do not fit together: at least two are wrong, or two are exchanged")]
    SeveralWrong,
    /// The code was made by a later version of the program, in another format.
    #[error("it is of format {version}, and this program restores format {known} only")]
    LaterVersion {
        /// Its format.
        version: u8,
        /// The one that this program restores.
        known: u8,
    },
    /// All symbols fit together, and yet a field has a number that it cannot have.
    #[error(
        "all its symbols fit together, but its field `{field}` says nothing that this format has"
    )]
    OutOfRange {
        /// Which field.
        field: &'static str,
    },
}

fn needed_told(needed: &[usize]) -> String {
    let all: Vec<String> = needed.iter().map(usize::to_string).collect();
    format!("{} {}", all.join(" or "), if needed == [1] { "is" } else { "are" })
}

/// A hostile word is not repeated whole, nor as it is.
fn shortened(word: &str) -> String {
    const LETTERS_MAX: usize = 20;
    let kept: String = word.chars().take(LETTERS_MAX).flat_map(char::escape_debug).collect();
    if word.chars().nth(LETTERS_MAX).is_some() { kept + "…" } else { kept }
}
