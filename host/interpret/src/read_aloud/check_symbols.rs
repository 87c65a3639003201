//! Three symbols at the end of a code that show what was misread: a shortened Reed–Solomon code over GF(32).
//!
//! A code is a polynomial, its first symbol at the highest power, that has x, x² and x³ of the field as zeros (I. S.
//! Reed and G. Solomon, 1960). Any two codes differ in at least four symbols. So one wrong symbol is known by its
//! place, and two wrong ones, of which an exchange of neighbours is a case, are never taken for one.

use super::gf32::{ORDER, log, over, power, times};

/// How many symbols are for checking.
pub(super) const CHECKS: usize = 3;

/// A code cannot be longer than this.
pub(super) const LONGEST: usize = ORDER;

/// (y − x)(y − x²)(y − x³), without its leading 1, from y² down.
fn generator() -> [u8; CHECKS] {
    let [a, b, c] = [1, 2, 3].map(power);
    let pairs = times(a, b) ^ times(a, c) ^ times(b, c);
    [a ^ b ^ c, pairs, times(times(a, b), c)]
}

/// What follows these symbols in a code.
pub(super) fn checks(data: &[u8]) -> [u8; CHECKS] {
    let generator = generator();
    data.iter().fold([0; CHECKS], |[first, second, third], symbol| {
        let carried = symbol ^ first;
        let [a, b, c] = generator.map(|factor| times(carried, factor));
        [second ^ a, third ^ b, c]
    })
}

/// What the check symbols say of a code as it was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Examined {
    /// Nothing is wrong with it.
    Right,
    /// One symbol is wrong, or at least three are: this one, counted from 0, would be so.
    One { at: usize, perhaps: u8 },
    /// More than one symbol is wrong, or two are exchanged.
    Several,
}

/// Examines a code of at most [`LONGEST`] symbols.
pub(super) fn examine(code: &[u8]) -> Examined {
    let at = |root: usize| code.iter().fold(0, |sum, symbol| times(sum, power(root)) ^ symbol);
    let [first, second, third] = [1, 2, 3].map(at);
    if [first, second, third] == [0; CHECKS] {
        return Examined::Right;
    }
    if times(second, second) != times(first, third) {
        return Examined::Several;
    }
    // One error e at power p gives e xᵖ, e x²ᵖ, e x³ᵖ.
    let found = over(second, first).and_then(|locator| {
        let place = log(locator)?;
        let at = code.len().checked_sub(place + 1)?;
        let error = over(first, locator)?;
        Some(Examined::One { at, perhaps: code[at] ^ error })
    });
    found.unwrap_or(Examined::Several)
}
