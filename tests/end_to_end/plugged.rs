//! A simulated jig on a serial port, about as fast as a real one, that can be unplugged and plugged in again.

use std::fs::File;
use std::io::{Read, Write};
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use runproof_firmware::boards::simulated::{Scene, SimulatedJig};

use crate::terminal::{raw, terminal};

const STEP: Duration = Duration::from_millis(1);

/// A jig that is plugged in.
pub(crate) struct Plugged {
    /// Where it is, however often it is plugged in.
    pub(crate) path: PathBuf,
    pull: Arc<AtomicBool>,
    serving: Option<JoinHandle<()>>,
}

impl Plugged {
    /// On a port in this folder.
    pub(crate) fn into(folder: &Path, scene: Scene) -> Self {
        let mut one = Self { path: folder.join("jig"), pull: Arc::default(), serving: None };
        one.plug_in(scene);
        one
    }

    /// It starts anew, as it had no power.
    pub(crate) fn plug_in(&mut self, scene: Scene) {
        self.unplug();
        let (master, path) = terminal();
        drop(raw(&path));
        symlink(path, &self.path).expect("a link");
        rustix::io::ioctl_fionbio(&master, true).expect("it does not wait");
        self.pull.store(false, Ordering::Relaxed);
        let pull = self.pull.clone();
        self.serving = Some(thread::spawn(move || serve(scene, File::from(master), &pull)));
    }

    /// First its path goes, as a port's does: another test's terminal may soon have the number.
    pub(crate) fn unplug(&mut self) {
        let _absent = std::fs::remove_file(&self.path);
        self.pull.store(true, Ordering::Relaxed);
        if let Some(serving) = self.serving.take() {
            serving.join().expect("it serves until it is pulled");
        }
    }
}

impl Drop for Plugged {
    fn drop(&mut self) {
        self.unplug();
    }
}

fn serve(scene: Scene, mut port: File, pull: &AtomicBool) {
    let mut jig = SimulatedJig::new(scene, 1);
    let begun = Instant::now();
    let mut buffer = [0; 1024];
    let mut unsent: Vec<u8> = vec![];
    while !pull.load(Ordering::Relaxed) {
        thread::sleep(STEP);
        // Without a program at the other end there is nothing to read, and nobody to write to.
        if let Ok(used) = port.read(&mut buffer) {
            let mut rest = &buffer[..used];
            while !rest.is_empty() {
                rest = &rest[jig.write(rest)..];
                jig.run(jig.now() + STEP.as_nanos() as u64);
            }
        }
        let now = begun.elapsed().as_nanos() as u64;
        while jig.now() < now && unsent.len() < buffer.len() {
            jig.run(now.min(jig.now() + STEP.as_nanos() as u64));
            let mut said = [0; 512];
            let used = jig.read(&mut said);
            unsent.extend_from_slice(&said[..used]);
        }
        if let Ok(sent) = port.write(&unsent) {
            unsent.drain(..sent);
        }
    }
}
