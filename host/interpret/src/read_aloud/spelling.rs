//! The words that symbols are spelled with, so that they survive a bad line.
//!
//! Letters by the radiotelephony spelling alphabet of ICAO Annex 10, Volume II, 5.2.1.3 (the paragraph from memory; the words
//! as in Regulation (EU) 923/2012, SERA.14020, table S14-2). Digits are said as plain English words, not as the same
//! texts pronounce them.

use super::alphabet::{number, symbol};

/// By symbol; the first word is said, all are understood: usual other spellings, and the digits as aviation says them.
const WORDS: [(char, &[&str]); 32] = [
    ('0', &["Zero"]),
    ('1', &["One", "Wun"]),
    ('2', &["Two", "Too"]),
    ('3', &["Three", "Tree"]),
    ('4', &["Four", "Fower"]),
    ('5', &["Five", "Fife"]),
    ('6', &["Six"]),
    ('7', &["Seven"]),
    ('8', &["Eight", "Ait"]),
    ('9', &["Nine", "Niner"]),
    ('A', &["Alfa", "Alpha"]),
    ('B', &["Bravo"]),
    ('C', &["Charlie"]),
    ('D', &["Delta"]),
    ('E', &["Echo"]),
    ('F', &["Foxtrot"]),
    ('G', &["Golf"]),
    ('H', &["Hotel"]),
    ('J', &["Juliett", "Juliet"]),
    ('K', &["Kilo"]),
    ('M', &["Mike"]),
    ('N', &["November"]),
    ('P', &["Papa"]),
    ('Q', &["Quebec"]),
    ('R', &["Romeo"]),
    ('S', &["Sierra"]),
    ('T', &["Tango"]),
    ('V', &["Victor"]),
    ('W', &["Whiskey", "Whisky"]),
    ('X', &["X-ray", "Xray"]),
    ('Y', &["Yankee"]),
    ('Z', &["Zulu"]),
];

/// Words of letters that a code has not, and what they are read as; none for `U`.
const LOOK_ALIKE: [(&str, char); 4] =
    [("India", 'I'), ("Lima", 'L'), ("Oscar", 'O'), ("Uniform", 'U')];

/// The word that a symbol is said by; of what is none the symbol itself has no word.
#[must_use]
pub fn word(of: char) -> Option<&'static str> {
    let meant = symbol(number(of)?);
    let (_, words) = WORDS.iter().find(|(symbol, _)| *symbol == meant)?;
    words.first().copied()
}

/// The letter or digit that a word spells, whatever its case.
pub(super) fn spelled(word: &str) -> Option<char> {
    let is = |known: &&str| known.eq_ignore_ascii_case(word);
    let by_symbol = WORDS.iter().find(|(_, words)| words.iter().any(is));
    let look_alike = || LOOK_ALIKE.iter().find(|(known, _)| is(known)).map(|(_, letter)| *letter);
    by_symbol.map(|(symbol, _)| *symbol).or_else(look_alike)
}

#[test]
fn every_symbol_has_a_word_and_no_word_two_symbols() {
    for n in 0..32 {
        let said = word(symbol(n)).expect("each has one");
        assert_eq!(spelled(said).and_then(number), Some(n));
        assert_eq!(spelled(&said.to_uppercase()).and_then(number), Some(n));
        // What comes first in a word is what it spells, of letters.
        assert!(n < 10 || said.starts_with(symbol(n)));
    }
    let mut all: Vec<&str> = WORDS.iter().flat_map(|(_, words)| words.iter().copied()).collect();
    all.extend(LOOK_ALIKE.map(|(word, _)| word));
    let count = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), count);
    assert_eq!(spelled("lima").and_then(number), number('1'));
    assert_eq!(spelled("uniform").and_then(number), None);
}
