//! What of a processor core `flex` takes at its screen, in quiet and while a conductor breaks hundreds of times a second.
//!
//! The program itself in a terminal of its own, with a simulated jig on a serial port; its processor time as the kernel counts
//! it. The jig and the terminal are this program's, and count nowhere.

#[path = "../../tests/end_to_end/plugged.rs"]
mod plugged;
#[path = "../../tests/end_to_end/terminal.rs"]
mod terminal;

use std::fs::File;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Child, Command};
use std::thread;
use std::time::{Duration, Instant};

use plugged::Plugged;
use runproof_firmware::boards::simulated::{Contact, Flexed, Moves, Scene};
use rustix::termios::{Winsize, tcsetwinsize};

/// Looks and baseline are over.
const BEGINS: Duration = Duration::from_secs(4);
const WATCHED: Duration = Duration::from_secs(10);

const BREAKS_A_SECOND: [usize; 3] = [0, 100, 1_000];
const SIZES: [(u16, u16); 2] = [(80, 24), (200, 60)];

/// Of this many breaks a second, of half their distance each.
fn scene(breaks: usize) -> Scene {
    let good = Scene::built_in("flex-good").expect("built in");
    if breaks == 0 {
        return good;
    }
    let apart_ms = 1e3 / breaks as f64;
    let lasts = (BEGINS + WATCHED).as_secs() as usize * 2;
    let moves = (0..breaks * lasts).map(|n| [n as f64 * apart_ms, apart_ms / 2.0]).collect();
    let of = Contact::Conductor { post: 2, ohm: 1e9 };
    let moves = Moves::At(moves);
    let flexed = Flexed { of, at: 0.5, moves, from_s: 0.0, until_s: f64::INFINITY };
    Scene { flexed: vec![flexed], ..good }
}

/// In a terminal of this size; its other end.
fn begun(data: &Path, port: &Path, (ws_col, ws_row): (u16, u16)) -> (Child, File) {
    let (master, path) = terminal::terminal();
    let size = Winsize { ws_row, ws_col, ws_xpixel: 0, ws_ypixel: 0 };
    tcsetwinsize(&master, size).expect("a terminal has a size");
    let here = || File::options().read(true).write(true).open(&path).expect("the terminal opens");
    let child = Command::new(env!("CARGO_BIN_EXE_runproof"))
        .args(["flex", "--yes", "--no-record", "--port"])
        .arg(port)
        .env("XDG_DATA_HOME", data)
        .env("TERM", "xterm-256color")
        .stdin(here())
        .stdout(here())
        .stderr(here())
        .spawn()
        .expect("it starts");
    (child, File::from(master))
}

/// Its processor time, of all its threads.
fn taken(child: &Child) -> Duration {
    let tasks = std::fs::read_dir(format!("/proc/{}/task", child.id())).expect("it runs");
    let taken = tasks.map(|task| {
        let path = task.expect("a thread").path().join("schedstat");
        let told = std::fs::read_to_string(path).expect("the kernel counts");
        told.split(' ').next().and_then(|ns| ns.parse().ok()).map(Duration::from_nanos)
    });
    taken.map(|one| one.expect("nanoseconds")).sum()
}

/// Its most memory so far, in KiB.
fn most_memory(child: &Child) -> u64 {
    let told = std::fs::read_to_string(format!("/proc/{}/status", child.id())).expect("it runs");
    let line = told.lines().find(|line| line.starts_with("VmHWM")).expect("a line of it");
    line.split_whitespace().nth(1).and_then(|kib| kib.parse().ok()).expect("KiB")
}

fn run(breaks: usize, size: (u16, u16)) {
    let data = Path::new(env!("CARGO_TARGET_TMPDIR")).join("flex screen");
    let _absent = std::fs::remove_dir_all(&data);
    std::fs::create_dir_all(&data).expect("a folder");
    let jig = Plugged::into(&data, scene(breaks));
    let (mut child, mut screen) = begun(&data, &jig.path, size);
    let mut drawn = screen.try_clone().expect("a second handle");
    let reader = thread::spawn(move || {
        let mut all = vec![];
        // It ends by an error where the other end is closed.
        let _closed = drawn.read_to_end(&mut all);
        all
    });
    thread::sleep(BEGINS);
    let (before, begun) = (taken(&child), Instant::now());
    thread::sleep(WATCHED);
    let share = (taken(&child) - before).as_secs_f64() / begun.elapsed().as_secs_f64();
    let memory = most_memory(&child);
    screen.write_all(b"q").expect("it listens");
    child.wait().expect("it ends");
    drop(screen);
    let drawn = reader.join().expect("it reads");
    let told = String::from_utf8_lossy(&drawn);
    let found = told.rsplit_once(" broke ").and_then(|(_, behind)| behind.split(' ').next());
    println!(
        "{breaks:>5} breaks a second, {}×{}: {:.1} % of a core, {memory} KiB; {} breaks told, {} kB drawn",
        size.0,
        size.1,
        share * 100.0,
        found.unwrap_or("no"),
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
