//! Codes as a whole: what they detect, what comes back, and that nothing panics.

mod format;
mod round_trip;
mod typed;

use super::check_symbols::{CHECKS, Examined, checks, examine};
use super::packing::fit;
use super::*;

/// Lengths of codes, and every other that a later version may have.
const LENGTHS: [usize; 6] = [8, 12, 16, 20, 24, 28];

/// The code is linear: an error shows as it does on a code of noughts. Once more on others, to be sure.
fn codes(length: usize) -> Vec<Vec<u8>> {
    let data = |step: usize| (0..length - CHECKS).map(move |n| (step * (n * n + 3) % 32) as u8);
    [0, 1, 7, 29]
        .map(|step| {
            let mut code: Vec<u8> = data(step).collect();
            code.extend(checks(&code));
            code
        })
        .to_vec()
}

#[test]
fn each_single_wrong_symbol_is_located_and_what_it_was_is_known() {
    let mut tried = 0;
    for code in LENGTHS.into_iter().flat_map(codes) {
        assert_eq!(examine(&code), Examined::Right);
        for (at, error) in (0..code.len()).flat_map(|at| (1..32).map(move |error| (at, error))) {
            let mut read = code.clone();
            read[at] ^= error;
            assert_eq!(examine(&read), Examined::One { at, perhaps: code[at] });
            tried += 1;
        }
    }
    println!("{tried} substitutions, all located");
}

/// Hence all exchanges of any two symbols too.
#[test]
fn two_wrong_symbols_are_never_taken_for_one_nor_for_none() {
    let mut tried = 0_u64;
    for length in [20, 24] {
        for (a, b) in (0..length).flat_map(|a| (a + 1..length).map(move |b| (a, b))) {
            for (x, y) in (1..32).flat_map(|x| (1..32).map(move |y| (x, y))) {
                let mut error = vec![0; length];
                (error[a], error[b]) = (x, y);
                assert_eq!(examine(&error), Examined::Several, "{x} at {a}, {y} at {b}");
                tried += 1;
            }
        }
    }
    println!("{tried} pairs of wrong symbols, all told as several");
}

#[test]
fn an_exchange_of_neighbours_is_several_wrong() {
    let mut tried = 0;
    for length in LENGTHS {
        // On a linear code the exchange of c and d adds c + d at both places: every sum but 0.
        for (at, error) in (0..length - 1).flat_map(|at| (1..32).map(move |error| (at, error))) {
            let mut read = vec![0; length];
            (read[at], read[at + 1]) = (error, error);
            assert_eq!(examine(&read), Examined::Several);
            tried += 1;
        }
        for code in codes(length) {
            for at in (0..length - 1).filter(|at| code[*at] != code[at + 1]) {
                let mut read = code.clone();
                read.swap(at, at + 1);
                assert_eq!(examine(&read), Examined::Several);
            }
        }
    }
    println!("{tried} patterns of exchanged neighbours, all told as several");
}

#[test]
fn the_fields_of_each_kind_fit_into_its_symbols() {
    for (name, length, fields) in fields() {
        let bits = |radix: u32| f64::from(radix).log2();
        let all: f64 = fields.iter().map(|(_, radix)| bits(*radix)).sum();
        println!("{name}: {length} symbols, {all:.2} bits of {}", 5 * (length - CHECKS - 1));
        for (field, radix) in &fields {
            println!("  {field:<24} {radix:>4}  {:.2}", bits(*radix));
        }
        assert!(fit(&fields, length - CHECKS - 1), "{name}: {all:.2} bits");
    }
}
