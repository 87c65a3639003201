//! The real program with its memory watched: bad input must not eat it.

use std::fs;
use std::path::Path;
use std::time::Instant;

use crate::program::{Ran, folder, runproof_under};

/// No input may take more.
const KIB_MAX: u64 = 64 << 10;

/// Runs the program and asserts that it stayed small; `name` is this run's own.
pub(crate) fn small(name: &str, arguments: &[&str]) -> Ran {
    let report = folder(&format!("peak-{name}")).join("kib");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/end_to_end/peak.py");
    let runner = ["python3", script.to_str().expect("UTF-8"), report.to_str().expect("UTF-8")];
    let begun = Instant::now();
    let ran = runproof_under(&runner, arguments);
    let kib = fs::read_to_string(&report).unwrap_or_else(|_| panic!("no report: {}", ran.err));
    let kib: u64 = kib.parse().expect("a number");
    println!("{name}: {kib} KiB, {:.1} s", begun.elapsed().as_secs_f64());
    assert!(kib < KIB_MAX, "{name} took {kib} KiB");
    ran
}
