//! The field of 32 elements: a symbol's five bits are a polynomial over GF(2), by x⁵ + x² + 1.

/// x⁵ + x² + 1, which is primitive: the powers of x are all 31 elements but 0 (a test shows it).
const MODULUS: u8 = 0b10_0101;

/// The order of the field's multiplicative group.
pub(super) const ORDER: usize = 31;

/// The powers of x, from 0 to 30.
const POWERS: [u8; ORDER] = {
    let mut powers = [1; ORDER];
    let mut n = 1;
    while n < ORDER {
        let doubled = powers[n - 1] << 1;
        powers[n] = if doubled & 32 == 0 { doubled } else { doubled ^ MODULUS };
        n += 1;
    }
    powers
};

/// x to this power.
pub(super) fn power(exponent: usize) -> u8 {
    POWERS[exponent % ORDER]
}

/// Which power of x this is; 0 is none.
pub(super) fn log(element: u8) -> Option<usize> {
    POWERS.iter().position(|power| *power == element)
}

pub(super) fn times(a: u8, b: u8) -> u8 {
    match (log(a), log(b)) {
        (Some(a), Some(b)) => power(a + b),
        _ => 0,
    }
}

/// None by 0.
pub(super) fn over(a: u8, b: u8) -> Option<u8> {
    let divisor = log(b)?;
    Some(log(a).map_or(0, |a| power(a + ORDER - divisor)))
}

#[test]
fn it_is_a_field() {
    let all = || 0..32_u8;
    let seen: std::collections::BTreeSet<u8> = POWERS.into_iter().collect();
    assert_eq!(seen.len(), ORDER, "x is primitive");
    for (a, b) in all().flat_map(|a| all().map(move |b| (a, b))) {
        assert_eq!(times(a, b), times(b, a));
        assert_eq!(over(times(a, b), b), (b != 0).then_some(a));
        for c in all() {
            assert_eq!(times(a, b ^ c), times(a, b) ^ times(a, c));
            assert_eq!(times(a, times(b, c)), times(times(a, b), c));
        }
    }
}
