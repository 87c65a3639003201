//! A program that is killed while it records: nothing that was said to be kept is lost.

use std::fs;
use std::io::Read;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use runproof_interpret::Capture;
use runproof_records::{Filter, Store};

use crate::program::{folder, runproof};

/// At so many moments.
const KILLS: usize = 500;
/// When all are taken, a new store is begun.
const CAPTURES: usize = 12;
/// As many captures as one likes, each another one: of a live look, which is quickly judged.
fn captures(into: &Path) {
    let one = into.join("one.jsonl");
    let save = one.to_str().expect("UTF-8");
    runproof(&["live", "--simulate", "live-good", "--save", save, "--no-load"]);
    let text = fs::read_to_string(&one).expect("a capture");
    let mut capture = Capture::read(&text).expect("a capture");
    for n in 0..CAPTURES {
        capture.head.taken_unix_s = Some(1_790_000_000 + n as u64);
        fs::write(into.join(format!("{n:03}.jsonl")), capture.write()).expect("written");
    }
    fs::remove_file(one).expect("ours");
}

/// Takes the captures in.
fn begun(captures: &Path, data: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(["records", "import"])
        .arg(captures)
        .env("XDG_DATA_HOME", data)
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts")
}

/// What it said before it was killed.
fn killed_after(time: Duration, captures: &Path, data: &Path) -> String {
    let mut program = begun(captures, data);
    thread::sleep(time);
    program.kill().expect("SIGKILL");
    let mut said = String::new();
    let mut out = program.stdout.take().expect("a pipe");
    out.read_to_string(&mut said).expect("UTF-8");
    program.wait().expect("it ended");
    said
}

#[test]
fn no_record_is_lost() {
    let mut chance = Pcg64Mcg::seed_from_u64(2026);
    let (from, stores) = (folder("killed-captures"), folder("killed-data"));
    captures(&from);
    // Some die before the store is open, some when all is done.
    let since = Instant::now();
    let whole = begun(&from, &stores.join("whole")).wait_with_output().expect("it ends");
    assert!(whole.status.success());
    let all_of_it = since.elapsed();
    let (mut most, mut within) = (0, 0);
    let mut data = stores.join("0");
    for kill in 0..KILLS {
        let place = data.join("runproof").join("records.sqlite3");
        let said = killed_after(all_of_it.mul_f64(chance.random()), &from, &data);
        if !place.exists() {
            continue;
        }
        let store = Store::open(&place).expect("it opens");
        for line in said.lines().filter(|line| line.contains("  kept as ")) {
            let id = line.rsplit(' ').next().expect("an id");
            let number =
                store.find(id).unwrap_or_else(|error| panic!("kill {kill}: {line}: {error}"));
            assert!(Capture::read(&store.record(number).expect("whole").capture).is_ok(), "{line}");
        }
        let all = store.list(&Filter { limit: Some(0), ..Filter::default() }).expect("a list").1;
        assert!(all >= most, "kill {kill}: {all} after {most}");
        within += usize::from(all > most);
        most = all;
        assert!(most <= CAPTURES, "none is there twice");
        assert_eq!(store.integrity().expect("an answer"), "ok", "kill {kill}");
        if most == CAPTURES {
            (data, most) = (stores.join(kill.to_string()), 0);
        }
    }
    assert!(within > KILLS / 4, "only {within} of {KILLS} died while records were taken");
    println!("{within} of {KILLS} died while records were taken");
}
