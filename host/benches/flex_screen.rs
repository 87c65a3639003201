//! What of a processor core `flex` takes at its screen, in quiet and while a conductor breaks hundreds of times a second.
//!
//! The program itself in a terminal of its own, with a simulated jig on a serial port; its processor time as the kernel counts
//! it, of ten seconds of the jig's time. The jig and the terminal are this program's, and count nowhere. Where the simulated jig
//! is slower than a real one, more is drawn of each second, and the share is too high.

#[path = "../../tests/end_to_end/plugged.rs"]
mod plugged;
#[path = "../../tests/end_to_end/terminal.rs"]
mod terminal;

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::process::{Child, Command};
use std::thread;
use std::time::Duration;

use plugged::Plugged;
use runproof_firmware::boards::simulated::{Contact, Flexed, Moves, Scene};
use rustix::termios::{Winsize, tcsetwinsize};

/// What both have is taken off: beginning, looks, baseline, result.
const SECONDS: [u64; 2] = [1, 11];

const BREAKS_A_SECOND: [usize; 3] = [0, 100, 1_000];
const SIZES: [(u16, u16); 2] = [(80, 24), (200, 60)];

/// Of this many breaks a second, of half their distance each.
fn scene(breaks: usize) -> Scene {
    let good = Scene::built_in("flex-good").expect("built in");
    if breaks == 0 {
        return good;
    }
    let apart_ms = 1e3 / breaks as f64;
    let moves = (0..breaks * 2 * SECONDS[1] as usize)
        .map(|n| [n as f64 * apart_ms, apart_ms / 2.0])
        .collect();
    let of = Contact::Conductor { post: 2, ohm: 1e9 };
    let moves = Moves::At(moves);
    let flexed = Flexed { of, at: 0.5, moves, from_s: 0.0, until_s: f64::INFINITY };
    Scene { flexed: vec![flexed], ..good }
}

/// In a terminal of this size; its other end.
fn begun(data: &Path, port: &Path, seconds: u64, (ws_col, ws_row): (u16, u16)) -> (Child, File) {
    let (master, path) = terminal::terminal();
    let size = Winsize { ws_row, ws_col, ws_xpixel: 0, ws_ypixel: 0 };
    tcsetwinsize(&master, size).expect("a terminal has a size");
    let here = || File::options().read(true).write(true).open(&path).expect("the terminal opens");
    let child = Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(["flex", "--yes", "--no-record", "--port"])
        .arg(port)
        .args(["--for", &format!("{seconds}s")])
        .env("XDG_DATA_HOME", data)
        .env("TERM", "xterm-256color")
        .stdin(here())
        .stdout(here())
        .stderr(here())
        .spawn()
        .expect("it starts");
    (child, File::from(master))
}

/// The processor time of all programs that were begun here and are over.
fn taken() -> Duration {
    const TICK: Duration = Duration::from_millis(10);
    let told = std::fs::read_to_string("/proc/self/stat").expect("the kernel counts");
    // Behind the name, which may have spaces: two of children, in user mode and in the kernel.
    let behind = told.rsplit_once(')').expect("a name").1;
    let ticks = behind.split_whitespace().skip(13).take(2);
    let ticks = ticks.map(|ticks| ticks.parse::<u32>().expect("a number"));
    TICK * ticks.sum::<u32>()
}

/// Its processor time, and what it drew.
fn watched(breaks: usize, seconds: u64, size: (u16, u16)) -> (Duration, Vec<u8>) {
    let data = Path::new(env!("CARGO_TARGET_TMPDIR")).join("flex screen");
    let _absent = std::fs::remove_dir_all(&data);
    std::fs::create_dir_all(&data).expect("a folder");
    let jig = Plugged::into(&data, scene(breaks));
    let before = taken();
    let (mut child, mut screen) = begun(&data, &jig.path, seconds, size);
    let reader = thread::spawn(move || {
        let mut all = vec![];
        // It ends by an error where the other end is closed.
        let _closed = screen.read_to_end(&mut all);
        all
    });
    child.wait().expect("it ends");
    (taken() - before, reader.join().expect("it reads"))
}

fn run(breaks: usize, size: (u16, u16)) {
    let [(short, _), (long, drawn)] = SECONDS.map(|seconds| watched(breaks, seconds, size));
    let share = (long - short).as_secs_f64() / (SECONDS[1] - SECONDS[0]) as f64;
    let told = String::from_utf8_lossy(&drawn);
    let found = told.rsplit_once(" broke ").and_then(|(_, behind)| behind.split(' ').next());
    println!(
        "{breaks:>5} breaks a second, {}×{}: {:.1} % of a core; {} breaks told in {} s, {} kB drawn",
        size.0,
        size.1,
        share * 100.0,
        found.unwrap_or("no"),
        SECONDS[1],
        drawn.len() / 1000
    );
}

fn main() {
    for size in SIZES {
        for breaks in BREAKS_A_SECOND {
            run(breaks, size);
        }
    }
}
