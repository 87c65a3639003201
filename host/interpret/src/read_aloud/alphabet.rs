//! The 32 symbols of a code: digits and letters without I, L, O and U, which are misread or misheard.

/// By number: Douglas Crockford's base 32.
const SYMBOLS: [u8; 32] = *b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// The symbol of this number; only its five lowest bits count.
pub(super) fn symbol(number: u8) -> char {
    char::from(SYMBOLS[usize::from(number & 31)])
}

/// The number of a symbol, as it may be written: lower case too, I and L for 1, O for 0. U stands for nothing.
pub(super) fn number(written: char) -> Option<u8> {
    let meant = match written.to_ascii_uppercase() {
        'I' | 'L' => '1',
        'O' => '0',
        other => other,
    };
    let found = SYMBOLS.iter().position(|one| char::from(*one) == meant)?;
    u8::try_from(found).ok()
}

#[test]
fn each_symbol_has_its_number_and_what_looks_alike_is_read_as_meant() {
    for n in 0..32 {
        assert_eq!(number(symbol(n)), Some(n));
        assert_eq!(number(symbol(n).to_ascii_lowercase()), Some(n));
    }
    for (written, meant) in [('i', '1'), ('I', '1'), ('l', '1'), ('L', '1'), ('o', '0'), ('O', '0')]
    {
        assert_eq!(number(written), number(meant));
    }
    for none in ['U', 'u', ' ', '-', 'é', '٣', '\0', 'ﬁ'] {
        assert_eq!(number(none), None, "{none:?}");
    }
}
