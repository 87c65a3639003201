//! Published figures, read; and compared.

use std::path::{Path, PathBuf};

fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/published").join(name)
}

pub(crate) fn table(name: &str) -> toml::Table {
    text(name).parse().unwrap()
}

pub(crate) fn rows(name: &str) -> Vec<Vec<String>> {
    let reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path(name));
    let rows = reader.unwrap().into_records();
    rows.map(|row| row.unwrap().iter().map(str::to_owned).collect()).collect()
}

pub(crate) fn text(name: &str) -> String {
    std::fs::read_to_string(path(name)).unwrap()
}

/// A number, be it written without a point.
pub(crate) fn number(value: &toml::Value) -> f64 {
    value.as_float().or(value.as_integer().map(|whole| whole as f64)).unwrap()
}

pub(crate) fn numbers(value: &toml::Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(number).collect()
}

#[track_caller]
pub(crate) fn close(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found}, not {expected} ± {within}");
}

/// Digits in which two numbers agree, NIST's log relative error.
pub(crate) fn digits(found: f64, certified: f64) -> f64 {
    if found == certified {
        return 15.0;
    }
    -((found - certified) / certified).abs().log10()
}
