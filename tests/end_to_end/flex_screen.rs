//! The screen of a watch in a real terminal: tmux at several sizes, ended in every way.

use std::path::Path;
use std::process::Command;
use std::thread;
use std::time::{Duration, Instant};

use crate::flex::nicked;
use crate::plugged::Plugged;
use crate::program::folder;

/// A terminal of its own, with a shell in it.
struct Terminal(String);

impl Terminal {
    fn new(name: &str, width: u16, height: u16) -> Self {
        let one = Self(format!("runproof-{}-{name}", std::process::id()));
        let (width, height) = (width.to_string(), height.to_string());
        // On a narrow terminal a result is thousands of lines.
        let remembers = ["start-server", ";", "set", "-g", "history-limit", "50000", ";"];
        let session = ["new-session", "-d", "-x", &width, "-y", &height, "sh"];
        one.tmux(&[&["-f", "/dev/null"], &remembers[..], &session].concat());
        one
    }

    fn tmux(&self, words: &[&str]) -> String {
        let mut command = Command::new("tmux");
        command.args(["-L", &self.0]).args(words).env_remove("TMUX").env("PS1", "$ ");
        let ran = command.output().expect("tmux");
        String::from_utf8_lossy(&ran.stdout).into_owned()
    }

    fn type_keys(&self, keys: &[&str]) {
        self.tmux(&[&["send-keys"], keys].concat());
    }

    /// What is on it now.
    fn shown(&self) -> String {
        self.tmux(&["capture-pane", "-p"])
    }

    /// The same, with what has gone off its top; lines that were broken by its width are whole.
    fn written(&self) -> String {
        self.tmux(&["capture-pane", "-p", "-J", "-S", "-"])
    }

    /// Waits until something is on it.
    fn shows(&self, wanted: &str) -> String {
        let begun = Instant::now();
        loop {
            let shown = self.shown();
            if shown.contains(wanted) {
                return shown;
            }
            assert!(begun.elapsed() < Duration::from_secs(30), "no {wanted} in:\n{shown}");
            thread::sleep(Duration::from_millis(50));
        }
    }

    /// The shell is there again, echoes, and begins its lines on the left.
    fn is_sane(&self) {
        // What is typed before the shell asks for it stands beside its prompt.
        let raw = "$(stty -a | grep -ow -e -echo -e -icanon -e -opost | wc -l)";
        self.type_keys(&[&format!("echo raw: {raw} of ''3"), "Enter"]);
        let shown = self.shows(" of 3\n");
        assert!(
            shown.lines().any(|line| line.trim_start_matches(['#', '$', ' ']) == "raw: 0 of 3"),
            "{shown}"
        );
        assert_eq!(
            self.tmux(&["display-message", "-p", "#{alternate_on} #{cursor_flag}"]).trim(),
            "0 1"
        );
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        self.tmux(&["kill-server"]);
    }
}

/// The program with its data in this folder.
fn command(data: &Path, arguments: &str) -> String {
    let program = env!("CARGO_BIN_EXE_runproof");
    format!("XDG_DATA_HOME='{}' '{program}' flex {arguments}", data.display())
}

fn fits(shown: &str, width: usize, height: usize) {
    assert!(shown.lines().count() <= height, "{shown}");
    assert!(shown.lines().all(|line| line.chars().count() <= width), "{shown}");
}

#[test]
fn it_fits_every_terminal_and_leaves_it_as_it_was() {
    for (width, height) in [(80, 24), (120, 40), (60, 15), (50, 12), (30, 5), (1, 1)] {
        let name = format!("{width}x{height}");
        let data = folder(&format!("flex screen {name}"));
        let terminal = Terminal::new(&name, width, height);
        terminal.type_keys(&[
            "clear; ",
            &command(&data, "--simulate flex-nicked --for 5min"),
            "Enter",
        ]);
        if width >= 50 {
            let shown = terminal.shows("data−");
            fits(&shown, width.into(), height.into());
            for told in ["data+", "common", "supply", "breaks", "m  mark"] {
                assert!(shown.contains(told), "{name}: {told} in\n{shown}");
            }
            let shown = terminal.shows("broke for");
            fits(&shown, width.into(), height.into());
            if height >= 15 {
                terminal.type_keys(&["m"]);
                terminal.shows("mark: ");
                terminal.type_keys(&["at the elbow"]);
                terminal.shows("mark: at the elbow");
                terminal.type_keys(&["Enter"]);
                if height >= 24 {
                    terminal.shows("mark    at the elbow");
                }
            }
        } else {
            thread::sleep(Duration::from_secs(3));
        }
        terminal.type_keys(&["q"]);
        thread::sleep(Duration::from_secs(1));
        terminal.tmux(&["resize-window", "-x", "100", "-y", "50"]);
        terminal.shows("record");
        let shown = terminal.written();
        assert!(shown.contains("FAIL: data− broke"), "{name}:\n{shown}");
        assert_eq!(shown.contains("“at the elbow”"), width >= 50 && height >= 15, "{shown}");
        terminal.is_sane();
    }
}

/// Smaller and larger while it is watched.
#[test]
fn it_goes_along_with_the_size() {
    let data = folder("flex screen resized");
    let terminal = Terminal::new("resized", 120, 40);
    terminal.type_keys(&[&command(&data, "--simulate flex-staple --shorts --for 5min"), "Enter"]);
    let shown = terminal.shows("data− common");
    for told in ["pair", "touches", "low, rough: two touch"] {
        assert!(shown.contains(told), "{told} in\n{shown}");
    }
    for (width, height) in [(80, 24), (60, 15), (20, 3), (1, 1), (50, 12), (80, 24)] {
        let size = [width.to_string(), height.to_string()];
        terminal.tmux(&["resize-window", "-x", &size[0], "-y", &size[1]]);
        thread::sleep(Duration::from_millis(400));
        let shown = terminal.shows(if width >= 20 { "data+ common" } else { "" });
        fits(&shown, width, height);
        assert_eq!(shown.contains("data+ common"), width >= 20, "{width}×{height}\n{shown}");
    }
    terminal.type_keys(&["Escape"]);
    terminal.shows("record");
    terminal.is_sane();
}

#[test]
fn told_to_end_it_leaves_the_terminal_and_the_record() {
    for (keys, signal) in [(Some("C-c"), None), (None, Some("TERM")), (None, Some("INT"))] {
        let name = keys.or(signal).expect("one of them");
        let data = folder(&format!("flex screen ended by {name}"));
        let terminal = Terminal::new(name, 80, 24);
        terminal.type_keys(&[&command(&data, "--simulate flex-nicked --for 5min"), "Enter"]);
        terminal.shows("broke for");
        if let Some(keys) = keys {
            terminal.type_keys(&[keys]);
        }
        if let Some(signal) = signal {
            let pid = terminal.tmux(&["display-message", "-p", "#{pane_pid}"]);
            let shell = pid.trim();
            let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children"));
            let child = children.expect("the shell's children").trim().to_owned();
            let killed = Command::new("kill").args([&format!("-{signal}"), &child]).status();
            assert!(killed.expect("kill").success());
        }
        let shown = terminal.shows("record");
        let told = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains("this jig is never the device"), "{shown}");
        terminal.is_sane();
    }
}

/// The jig's side ends: it is looked for, and then the record is kept.
#[test]
fn a_jig_that_goes_away_leaves_the_terminal_and_the_record() {
    let data = folder("flex screen unplugged");
    let mut jig = Plugged::into(&data, nicked());
    let terminal = Terminal::new("unplugged", 80, 24);
    let port = format!("--yes --port '{}'", jig.path.display());
    terminal.type_keys(&[&command(&data, &port), "Enter"]);
    terminal.shows("broke for");
    jig.unplug();
    terminal.shows("it is looked for");
    jig.plug_in(nicked());
    terminal.shows("watches on");
    jig.unplug();
    terminal.shows("record");
    terminal.is_sane();
}

/// Whoever stands beside the jig need not wait until it sees the key out.
#[test]
fn enter_is_heard_while_it_waits_and_ends_no_watch() {
    let data = folder("flex screen enter");
    let jig = Plugged::into(&data, nicked());
    let terminal = Terminal::new("enter", 80, 24);
    let port = format!("--shorts --port '{}'", jig.path.display());
    terminal.type_keys(&[&command(&data, &port), "Enter"]);
    terminal.shows("Enter          begins at once");
    thread::sleep(Duration::from_millis(1500));
    assert!(!terminal.shown().contains("touches"), "{}", terminal.shown());
    terminal.type_keys(&["Enter"]);
    terminal.shows("low, rough: two touch");
    thread::sleep(Duration::from_millis(1000));
    terminal.type_keys(&["Enter"]);
    terminal.shows("record");
    terminal.is_sane();
}
