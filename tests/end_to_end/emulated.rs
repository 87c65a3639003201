//! The unmodified image on an emulated RP2040, in front of the same simulated runs: the program
//! meets it through a pseudo-terminal, as it would meet a jig on USB.

use std::ffi::OsStr;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use crate::program::{folder, runproof, runproof_keeping};
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
        Self::with(scene, seed, &[])
    }

    /// Its key was pressed so often before anybody came to its port.
    fn pressed(scene: &Path, seed: u32, times: u32) -> Self {
        let times = times.to_string();
        Self::with(scene, seed, &["--press".as_ref(), times.as_ref()])
    }

    /// What it keeps is in this file.
    fn keeping(scene: &Path, seed: u32, store: &Path) -> Self {
        Self::with(scene, seed, &["--store".as_ref(), store.as_os_str()])
    }

    fn with(scene: &Path, seed: u32, arguments: &[&OsStr]) -> Self {
        let (master, port) = terminal();
        let mut held = raw(&port);
        let end = || Stdio::from(master.try_clone().expect("a second handle"));
        let emulator = Command::new("node")
            .arg(root().join("tests/emulator/jig.mjs"))
            .arg("--image")
            .arg(built("runproof-rp2040.uf2"))
            .arg("--world")
            .arg(built("world.wasm"))
            .arg("--scene")
            .arg(scene)
            .args(["--seed", &seed.to_string()])
            .args(arguments)
            .stdin(end())
            .stdout(end())
            .spawn()
            .expect("node starts");
        drop(master);
        // On a busy computer the emulator starts for longer than a jig may be silent; and its key is pressed first.
        held.read_exact(&mut [0]).expect("the jig beats");
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

/// The image hears of a core that is shaken what the simulated board does: the same conductor, 17 times a second, for 0.15 ms.
#[test]
fn a_flexed_run_is_watched_by_the_image_as_in_memory() {
    let jig = EmulatedJig::on(&scene("flexed/flex-blower"), 1);
    for way in [["--port", &jig.port], ["--simulate", "flex-blower"]] {
        let watch = ["--for", "6s", "--json", "--yes", "--no-record"];
        let ran = runproof(&[&["flex"], &way[..], &watch].concat());
        let last = ran.out.lines().last().unwrap_or_default();
        let told: serde_json::Value = serde_json::from_str(last).expect("the result");
        let (result, found) = (&told["result"], &told["result"]["findings"]);
        assert_eq!(found.as_array().map(Vec::len), Some(1), "{way:?}: {found}");
        let found = &found[0];
        assert_eq!((&found["kind"], &found["lane"]), (&"breaks".into(), &"1".into()), "{told}");
        let numbers = [&found["count"], &found["longest_us"]].map(|one| one.as_u64().unwrap_or(0));
        assert!((80..=104).contains(&numbers[0]), "{way:?}: {found}");
        assert!((130..=170).contains(&numbers[1]), "{way:?}: {found}");
        assert_eq!(result["watches"][0]["head"]["gaps"], 0, "{way:?}");
    }
}

/// The image reads powered runs as the simulated board does: the same verdict and findings, and numbers that agree within
/// what is stated of them.
#[test]
fn a_powered_run_is_read_by_the_image_as_in_memory() {
    for name in ["live-good", "live-sags", "live-reversed", "live-mains-on-data"] {
        let scene = scene(&format!("live/{name}"));
        let jig = EmulatedJig::on(&scene, 1);
        let emulated = runproof(&["live", "--port", &jig.port, "--json"]).json();
        let in_memory = runproof(&["live", "--simulate", name, "--json"]).json();
        assert_eq!(emulated["verdict"], in_memory["verdict"], "{name}: {emulated}");
        let kinds = |result: &serde_json::Value| {
            let findings = result["findings"].as_array().expect("a list").clone();
            findings.iter().map(|one| one["kind"].clone()).collect::<Vec<_>>()
        };
        assert_eq!(kinds(&emulated), kinds(&in_memory), "{name}");
        let numbers = ["/supply/rms_v", "/pair/bias_v", "/supply/hertz", "/supply_load/source_ohm"];
        for number in numbers {
            let told = |result: &serde_json::Value, key: &str| {
                result.pointer(number).and_then(|one| one[key].as_f64())
            };
            let (Some(a), Some(b)) = (told(&emulated, "value"), told(&in_memory, "value")) else {
                assert_eq!(name, "live-mains-on-data", "{number} is told");
                continue;
            };
            let u = told(&emulated, "u").expect("a number");
            assert!((a - b).abs() <= u, "{name}: {number} {a} and {b}, u {u}");
        }
    }
}

/// A pin that nothing holds low: the chip finds no supply load, says so, and none is put on.
#[test]
fn the_chip_sees_whether_a_supply_load_is_fitted() {
    let folder = folder("without a load");
    let text = include_str!("../../firmware/src/boards/simulated/scenes/live/live-sags.toml");
    for (fitted, status) in [(true, 1), (false, 0)] {
        let file = folder.join(format!("{fitted}.toml"));
        std::fs::write(&file, format!("{text}\n[jig]\nsupply_load = {fitted}\n")).expect("written");
        let jig = EmulatedJig::on(&file, 1);
        let told = runproof(&["jig", "--port", &jig.port, "--json"]).json();
        assert_eq!(told["capabilities"]["supply_load"], fitted);
        assert_eq!(told["jig"]["supply_load_ohm"].is_null(), !fitted);
        let live = runproof(&["live", "--port", &jig.port, "--json"]);
        assert_eq!(live.status, status, "{}", live.out);
        assert_eq!(live.json()["supply_load"].is_null(), !fitted);
    }
}

/// What the jig measured by itself, its key pressed with the plug out and in, is judged as if the program had
/// measured it; a jig that was not pressed has nothing.
#[test]
fn what_was_measured_without_a_host_is_judged_later() {
    for (name, verdict) in
        [("good-run", "pass"), ("crossed-supply", "fail"), ("damp-splice", "fail")]
    {
        let jig = EmulatedJig::pressed(&scene(name), 3, 2);
        let kept = runproof(&["check", "--kept", "--port", &jig.port, "--json"]).json();
        assert_eq!(kept["verdict"], verdict, "{name}: {kept}");
        let measured = EmulatedJig::on(&scene(name), 3);
        let measured = runproof(&["check", "--yes", "--port", &measured.port, "--json"]).json();
        let kinds = |result: &serde_json::Value| {
            let findings = result["findings"].as_array().expect("findings").iter();
            findings.map(|one| (one["kind"].clone(), one["posts"].clone())).collect::<Vec<_>>()
        };
        assert_eq!(kinds(&kept), kinds(&measured), "{name}");
    }
    let jig = EmulatedJig::on(&scene("good-run"), 3);
    let nothing = runproof(&["check", "--kept", "--port", &jig.port]);
    assert_eq!(nothing.status, 2);
    assert!(nothing.err.contains("has measured nothing by itself"), "{}", nothing.err);
    assert!(nothing.err.contains("press its key"), "{}", nothing.err);
}

/// The key is turned over long after both phases are measured, and taken out 8 s later: while an emulated jig has
/// nothing to do, its time runs twenty times faster than the computer's.
#[test]
fn the_chip_lights_the_verdict_at_the_far_end() {
    let path = folder("emulated far lights").join("scene.toml");
    let text = std::fs::read_to_string(scene("good-run")).expect("a scene");
    let text = text.replacen("[run]", "key_reversed_s = 200.0\nkey_out_s = 208.0\n\n[run]", 1);
    let text = text.replace("arrives_at = [1, 2, 3, 4]", "arrives_at = [1, 4, 3, 2]");
    std::fs::write(&path, text).expect("written");
    let jig = EmulatedJig::on(&path, 3);
    let ran = runproof(&["check", "--port", &jig.port, "--yes", "--far-lights", "10min"]);
    assert_eq!(ran.status, 1, "{}{}", ran.out, ran.err);
    let told = ran.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("its lights were driven with the verdict"), "{}", ran.err);
}

/// The tail on the clips, on a bench of 41 °C; then a run. The jig's serial is its flash
/// chip's number, here made of the seed.
#[test]
fn a_zero_is_taken_by_the_chips_own_thermometer() {
    let folder = folder("emulated zero");
    let warm = |name: &str| {
        let text = std::fs::read_to_string(scene(name)).expect("a scene");
        let text = if text.contains("[jig]") { text } else { format!("{text}\n[jig]\n") };
        let path = folder.join(name);
        std::fs::write(&path, text.replace("[jig]", "[jig]\ncelsius = 41.0")).expect("written");
        path
    };
    let (zero, capture) = (folder.join("zero.jsonl"), folder.join("run.jsonl"));
    let [zero, capture] = [&zero, &capture].map(|path| path.to_str().expect("UTF-8"));
    let jig = EmulatedJig::on(&warm("tail-on-clips"), 3);
    let taken = runproof(&["zero", "--port", &jig.port, "--save", zero]);
    assert_eq!(taken.status, 0, "{}", taken.err);
    drop(jig);
    let jig = EmulatedJig::on(&warm("good-run"), 3);
    let ran = runproof(&[
        "check", "--port", &jig.port, "--yes", "--json", "--zero", zero, "--save", capture,
    ]);
    let result = ran.json();
    assert_eq!(result["jig"]["serial"], "5250000000000003");
    assert_eq!(result["zero"]["used"], true, "{}", result["zero"]);
    assert!(
        result["zero"]["warmer_k"].as_f64().expect("a number").abs() < 0.5,
        "{}",
        result["zero"]
    );
    assert_eq!(result["verdict"], "pass", "{}", ran.out);
    let text = std::fs::read_to_string(capture).expect("a capture");
    let told = text.lines().filter_map(|line| line.split_once("\"jig_c\":")?.1.split_once('}'));
    let told: Vec<f64> = told.filter_map(|(celsius, _)| celsius.parse().ok()).collect();
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().all(|celsius| (celsius - 41.0).abs() < 1.0), "{told:?}");
}

/// Taken at one computer, used at another: the zero is on the jig, and so are its name and its plug.
#[test]
fn what_belongs_to_a_jig_goes_with_it() {
    let folder = folder("emulated keeping");
    let store = folder.join("store");
    let [one, other] = ["one", "other"].map(|name| folder.join(name));
    let jig = EmulatedJig::keeping(&scene("tail-on-clips"), 3, &store);
    let told = runproof_keeping(
        &one,
        &["jig", "--port", &jig.port, "--name", "Bench 3", "--plug-name", "B", "--plug-values"]
            .into_iter()
            .chain(["33.21,47.49,68.1,150"])
            .collect::<Vec<_>>(),
    );
    assert_eq!(told.status, 0, "{}", told.err);
    assert!(told.out.starts_with("JIG Bench 3"), "{}", told.out);
    let taken = runproof_keeping(&one, &["zero", "--port", &jig.port, "--yes"]);
    assert_eq!(taken.status, 0, "{}", taken.err);
    assert!(taken.out.contains("the jig itself, for whatever computer"), "{}", taken.out);
    drop(jig);

    let jig = EmulatedJig::keeping(&scene("good-run"), 3, &store);
    let check = ["check", "--port", &jig.port, "--yes", "--json"];
    let ran = runproof_keeping(&other, &check).json();
    assert_eq!(ran["zero"]["used"], true, "{ran}");
    assert_eq!(ran["verdict"], "pass");
    let none = runproof_keeping(&other, &[&check[..], &["--zero", "none"]].concat()).json();
    assert!(none["zero"].is_null(), "{none}");
    let wrong = runproof_keeping(&other, &[&check[..], &["--plug", "C"]].concat());
    assert_eq!(wrong.status, 64, "{}", wrong.err);
    assert!(wrong.err.contains("keeps the values of end plug B"), "{}", wrong.err);

    let shown = runproof_keeping(&other, &["jig", "--port", &jig.port, "--json"]).json();
    assert_eq!(shown["jig"]["name"], "Bench 3");
    assert_eq!(shown["plug"]["ring_ohm"][0], 33.21);
    assert_eq!(shown["zero"]["fits"], true, "{shown}");
    let forget = ["jig", "--port", &jig.port, "--json", "--forget", "zero", "--forget", "plug"];
    let forgotten = runproof_keeping(&other, &forget).json();
    assert!(forgotten["zero"].is_null() && forgotten["plug"]["name"].is_null(), "{forgotten}");
    assert_eq!(forgotten["plug"]["ring_ohm"][0], 33.2);
    assert!(runproof_keeping(&other, &check).json()["zero"].is_null());
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
            let check =
                ["check", "--port", &jig.port, "--yes", "--no-record", "--save", file, "--json"];
            let checked = runproof(&[&check[..], &expected.told()].concat());
            tally.count(expected, seed, &checked, file);
            assert_eq!(checked.json()["jig"]["board"], "rp2040");
        }
    }
    tally.is_right(scenes::ALL.len() * SEEDS as usize);
}
