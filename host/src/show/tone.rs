//! The computer's own sounder: what the jig's would play, by the system's sound player.

mod samples;

use std::io::{self, BufRead, BufReader, Write};
use std::os::fd::AsRawFd;
use std::os::unix::process::CommandExt;
use std::process::{Child, ChildStderr, ChildStdin, Command, Stdio};
use std::sync::mpsc::{self, Receiver, Sender, TryRecvError};
use std::thread;
use std::time::{Duration, Instant};

use runproof_protocol::Tune;

use self::samples::{CHUNK, RATE_HERTZ, Samples};

/// It reads samples, and plays them as they come.
const PLAYER: &str = "aplay";

/// What the player holds back: more, and the tone comes late; less, and it stutters.
const HOLDS_MICROS: u32 = 60_000;

/// So far may the samples be ahead of what is heard.
const AHEAD: Duration = Duration::from_millis(60);

/// The least that the kernel allows: what waits in the pipe comes late.
#[cfg(target_os = "linux")]
const PIPE_BYTES: i32 = 4096;

/// A player that finds no sound card ends within this.
const ENDS_WITHIN: Duration = Duration::from_millis(300);

/// Plays until it is dropped.
pub(crate) struct Tone {
    player: Child,
    tunes: Sender<Tune>,
    plays: Tune,
}

impl Tone {
    /// Silent at first. The error is what the player complained of.
    pub(crate) fn begin() -> io::Result<Self> {
        let mut player = Command::new(PLAYER)
            .args(["-q", "-t", "raw", "-f", "S16_LE", "-c", "1"])
            .arg(format!("--rate={RATE_HERTZ}"))
            .arg(format!("--buffer-time={HOLDS_MICROS}"))
            .arg("-")
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            // A Ctrl-C is for this program alone.
            .process_group(0)
            .spawn()?;
        let (input, complaints) = (player.stdin.take(), player.stderr.take());
        let (Some(input), Some(complaints)) = (input, complaints) else {
            unreachable!("both were asked for")
        };
        let complaints = heard(complaints);
        let begun = Instant::now();
        while begun.elapsed() < ENDS_WITHIN {
            if player.try_wait()?.is_some() {
                return Err(io::Error::other(last(&complaints)));
            }
            thread::sleep(Duration::from_millis(10));
        }
        #[cfg(target_os = "linux")]
        let _it_comes_late =
            nix::fcntl::fcntl(input.as_raw_fd(), nix::fcntl::FcntlArg::F_SETPIPE_SZ(PIPE_BYTES));
        let (tunes, played) = mpsc::channel();
        thread::spawn(move || play(input, &played));
        Ok(Self { player, tunes, plays: Tune::Silent })
    }

    /// From now on, this.
    pub(crate) fn play(&mut self, tune: Tune) {
        if self.plays != tune {
            self.plays = tune;
            let _the_player_ended = self.tunes.send(tune);
        }
    }
}

impl Drop for Tone {
    fn drop(&mut self) {
        let _ended = self.player.kill();
        let _status = self.player.wait();
    }
}

/// Until the player or whoever wants to hear something is gone.
fn play(mut input: ChildStdin, tunes: &Receiver<Tune>) {
    let mut samples = Samples::default();
    let mut tune = Tune::Silent;
    let mut due = Instant::now();
    loop {
        match tunes.try_recv() {
            Ok(next) => {
                tune = next;
                continue;
            }
            Err(TryRecvError::Disconnected) => return,
            Err(TryRecvError::Empty) => {}
        }
        if input.write_all(&samples.next(tune)).is_err() {
            return;
        }
        // Not every player waits until it was heard.
        due = (due + CHUNK).max(Instant::now());
        thread::sleep(due.saturating_duration_since(Instant::now() + AHEAD));
    }
}

/// What the player complains of, line by line, as long as somebody wants to know; read on behind it, or the player waits.
fn heard(complaints: ChildStderr) -> Receiver<String> {
    let (told, lines) = mpsc::channel();
    thread::spawn(move || {
        for line in BufReader::new(complaints).lines().map_while(Result::ok) {
            let _nobody_asks = told.send(line);
        }
    });
    lines
}

fn last(complaints: &Receiver<String>) -> String {
    let last = complaints.iter().filter(|line| !line.trim().is_empty()).last();
    last.unwrap_or_else(|| format!("`{PLAYER}` ended at once"))
}
