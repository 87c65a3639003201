//! From what somebody typed to symbols: groups or single symbols, hyphens or not, or the words that spell them.

use super::CodeError;
use super::alphabet::number;
use super::spelling::spelled;

/// The readings that a text allows, the likelier first. `PAPA` may be four symbols, or one that is spelled.
pub(super) fn readings(text: &str) -> [Result<Vec<u8>, CodeError>; 2] {
    let text = text.to_lowercase().replace("x-ray", "xray").replace("x ray", "xray");
    let parts: Vec<&str> = text.split(separates).filter(|part| !part.is_empty()).collect();
    let long = || parts.iter().filter(|part| part.chars().nth(1).is_some());
    let words = long().filter(|part| spelled(part).is_some()).count();
    let by_word = by_word(&parts);
    let by_symbol = symbols(parts.iter().flat_map(|part| part.chars()));
    if 2 * words > long().count() { [by_word, by_symbol] } else { [by_symbol, by_word] }
}

fn by_word(parts: &[&str]) -> Result<Vec<u8>, CodeError> {
    let mut letters = vec![];
    for part in parts {
        match spelled(part) {
            Some(letter) => letters.push(letter),
            // Digits come in groups, also between words.
            None if part.chars().nth(1).is_none() => letters.extend(part.chars()),
            None if part.chars().all(|c| c.is_ascii_digit()) => letters.extend(part.chars()),
            None => return Err(CodeError::NotAWord { found: (*part).to_owned() }),
        }
    }
    symbols(letters.into_iter())
}

fn symbols(letters: impl Iterator<Item = char>) -> Result<Vec<u8>, CodeError> {
    let numbered = letters.enumerate().map(|(n, letter)| {
        let found = letter.to_ascii_uppercase();
        number(letter).ok_or(CodeError::NotInAlphabet { found, at: n + 1 })
    });
    numbered.collect()
}

/// What stands between groups or around a code: space, hyphens and dashes of any width, dots, commas, slashes, quotes.
fn separates(c: char) -> bool {
    c.is_whitespace()
        || matches!(
            c,
            '-' | '\u{2010}'
                ..='\u{2015}'
                    | '\u{2212}'
                    | '.'
                    | ','
                    | ';'
                    | ':'
                    | '/'
                    | '_'
                    | '·'
                    | '"'
                    | '\''
                    | '`'
                    | '“'
                    | '”'
                    | '‘'
                    | '’'
                    | '('
                    | ')'
        )
}
