//! `check`: measures the run on the jig and judges it.

use std::fs::{File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use runproof_firmware::boards::simulated::{BUILT_IN, Scene, SceneError};
use runproof_protocol::Phase;

use crate::arguments::{Check, WhichJig};
use crate::error::Error;
use crate::exit::Exit;
use crate::jig::{self, Jig, SerialPort, SimulatedPort};

pub(super) fn run(arguments: Check) -> Result<Exit, Error> {
    let jig = meet(arguments.jig, arguments.seed)?;
    if arguments.rearm {
        jig.rearm()?;
    }
    let save = arguments.save.map(new_file).transpose()?;
    let mut capture = jig.capture();
    jig.measure(Phase::Plug, &mut capture, &mut |_| {});
    let saved = save.map_or(Ok(()), |(path, mut file)| {
        file.write_all(capture.write().as_bytes())
            .map_err(|source| Error::NotSaved { path, source })
    });
    let exit = super::judged(&capture, arguments.output)?;
    saved.map(|()| exit)
}

fn meet(which: WhichJig, seed: u64) -> Result<Jig, Error> {
    if let Some(name) = which.simulate {
        let scene = scene(&name)?;
        return Ok(Jig::meet("the simulated jig", move || Ok(SimulatedPort::new(scene, seed)))?);
    }
    let path = which.port.map_or_else(jig::the_attached_jig, Ok)?;
    Ok(Jig::meet(&path.clone(), move || SerialPort::open(&path))?)
}

/// A built-in scene takes some 300 bytes.
const SCENE_BYTES_MAX: usize = 64 << 10;

/// A built-in scene, or one in a file.
fn scene(name: &str) -> Result<Scene, Error> {
    if BUILT_IN.iter().any(|(known, _)| *known == name) {
        return Ok(Scene::built_in(name)?);
    }
    let path = Path::new(name);
    if !path.exists() {
        return Err(SceneError::Unknown(name.to_owned()).into());
    }
    let text = super::read(path, SCENE_BYTES_MAX)?;
    Scene::read(&text).map_err(|source| Error::NotAScene { path: path.into(), source })
}

/// Made before anything is measured, so that a measurement is not taken in vain.
fn new_file(path: PathBuf) -> Result<(PathBuf, File), Error> {
    match OpenOptions::new().write(true).create_new(true).open(&path) {
        Ok(file) => Ok((path, file)),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(Error::Exists { path }),
        Err(source) => Err(Error::NotSaved { path, source }),
    }
}
