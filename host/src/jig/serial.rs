//! A jig on a serial port.

use std::io::{self, Read, Write};

use serialport::{ErrorKind, SerialPort as _, TTYPort};

use super::{JigError, PATIENCE, Port};

/// USB carries the bytes as fast as it can; this number only has to be one that every system knows.
const BAUD: u32 = 115_200;

pub(crate) struct SerialPort(TTYPort);

impl SerialPort {
    pub(crate) fn open(path: &str) -> Result<Self, JigError> {
        let mut port = serialport::new(path, BAUD)
            .timeout(PATIENCE)
            .open_native()
            .map_err(|error| told(path, &error))?;
        // A jig does not wait for it, and a port without control lines refuses: either is fine.
        let _ = port.write_data_terminal_ready(true);
        Ok(Self(port))
    }
}

fn told(path: &str, error: &serialport::Error) -> JigError {
    let path = path.to_owned();
    let reason = error.to_string();
    match error.kind() {
        ErrorKind::Io(io::ErrorKind::PermissionDenied) => JigError::NotPermitted { path },
        ErrorKind::Io(io::ErrorKind::NotFound) => JigError::NoSuchPort { path },
        ErrorKind::NoDevice if !std::path::Path::new(&path).exists() => {
            JigError::NoSuchPort { path }
        }
        ErrorKind::NoDevice if reason.contains("lock") || reason.contains("busy") => {
            JigError::InUse { path }
        }
        _ if reason.contains("typewriter") || reason.contains("ioctl") => {
            JigError::CannotOpen { path, reason: "it is no serial port".into() }
        }
        _ => JigError::CannotOpen { path, reason },
    }
}

impl Port for SerialPort {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)
    }

    /// A time-out is no data yet; no bytes without one means that the port is gone.
    fn receive(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        match self.0.read(buffer) {
            Ok(0) => Err(io::Error::new(io::ErrorKind::BrokenPipe, "the port was unplugged")),
            Ok(used) => Ok(used),
            Err(error) if error.kind() == io::ErrorKind::TimedOut => Ok(0),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => Ok(0),
            Err(error) => Err(error),
        }
    }
}
