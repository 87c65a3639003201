//! A pseudo-terminal in place of a USB serial port.

use std::fs::File;
use std::os::fd::OwnedFd;

use rustix::pty::{self, OpenptFlags};
use rustix::termios::{self, OptionalActions};

/// A pseudo-terminal: the emulator's end, and the path of the program's end.
pub(crate) fn terminal() -> (OwnedFd, String) {
    let master = pty::openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).expect("a pseudo-terminal");
    pty::grantpt(&master).expect("granted");
    pty::unlockpt(&master).expect("unlocked");
    let path = pty::ptsname(&master, vec![]).expect("a path");
    (master, path.into_string().expect("UTF-8"))
}

/// Opens the program's end without echo: the jig must not hear its own words.
pub(crate) fn raw(path: &str) -> File {
    let file = File::options().read(true).write(true).open(path).expect("the terminal opens");
    let mut settings = termios::tcgetattr(&file).expect("a terminal");
    settings.make_raw();
    termios::tcsetattr(&file, OptionalActions::Now, &settings).expect("set");
    file
}
