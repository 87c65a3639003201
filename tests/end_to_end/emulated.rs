//! The unmodified image on an emulated RP2040, in front of the same simulated runs: the program
//! meets it through a pseudo-terminal, as it would meet a jig on USB.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use crate::program::{folder, runproof};
use crate::scenes::{self, Tally};
use crate::terminal::{raw, terminal};

const SEEDS: u32 = 1;

/// A jig in an emulator, until it is dropped.
struct EmulatedJig {
    emulator: Child,
    port: String,
    /// Holds the terminal open, so that the emulator does not see its host leave too early.
    _held: File,
}

impl EmulatedJig {
    fn on(scene: &Path, seed: u32) -> Self {
        let (master, port) = terminal();
        let held = raw(&port);
        let end = || Stdio::from(master.try_clone().expect("a second handle"));
        let emulator = Command::new("node")
            .arg(root().join("tests/emulator/jig.mjs"))
            .arg("--image")
            .arg(built("rp2040.elf"))
            .arg("--world")
            .arg(built("world.wasm"))
            .arg("--scene")
            .arg(scene)
            .args(["--seed", &seed.to_string()])
            .stdin(end())
            .stdout(end())
            .spawn()
            .expect("node starts");
        Self { emulator, port, _held: held }
    }
}

impl Drop for EmulatedJig {
    fn drop(&mut self) {
        let _ended = self.emulator.kill();
        let _status = self.emulator.wait();
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn built(name: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("../image").join(name);
    assert!(path.exists(), "{} is missing: run tests/image first", path.display());
    path
}

fn scene(name: &str) -> PathBuf {
    root().join("firmware/src/boards/simulated/scenes").join(format!("{name}.toml"))
}

/// The jig remembers what it saw, whoever asks next, until it is re-armed.
#[test]
fn a_hazard_stays_latched_between_two_checks() {
    let jig = EmulatedJig::on(&scene("powered-run"), 1);
    let check = ["check", "--port", &jig.port, "--json"];
    let first = runproof(&check).json();
    assert_eq!(first["findings"][0]["kind"], "hazard");
    let second = runproof(&check).json();
    assert_eq!(second["findings"][0]["cause"], "stopped");
    assert!(second["broken_off"].as_str().is_some_and(|why| why.contains("not re-armed")));
    let third = runproof(&[&check[..], &["--rearm"]].concat()).json();
    assert_eq!(third["findings"][0]["kind"], "hazard");
}

#[test]
fn a_core_that_touches_metal_is_told() {
    let jig = EmulatedJig::on(&scene("nicked-to-conduit"), 1);
    let ran = runproof(&["check", "--to-earth", "--yes", "--port", &jig.port, "--json"]);
    assert_eq!(ran.status, 1, "{}", ran.err);
    assert_eq!(ran.json()["findings"][0]["kind"], "short-to-metal");
}

#[test]
fn every_scene_on_the_emulated_microcontroller() {
    let folder = folder("emulated");
    let mut tally = Tally::default();
    for expected in &scenes::ALL {
        let scene = scene(expected.scene);
        for seed in 1..=SEEDS {
            let jig = EmulatedJig::on(&scene, seed);
            let file = folder.join(format!("{}-{seed}.jsonl", expected.scene));
            let file = file.to_str().expect("UTF-8");
            let check = ["check", "--port", &jig.port, "--yes", "--save", file, "--json"];
            let checked = runproof(&[&check[..], &expected.told()].concat());
            tally.count(expected, seed, &checked, file);
            assert_eq!(checked.json()["jig"]["board"], "rp2040");
        }
    }
    tally.is_right(scenes::ALL.len() * SEEDS as usize);
}
