//! `check`: guides a person through the measurement of a run, and judges it.

use std::path::Path;
use std::time::Duration;

use runproof_firmware::boards::simulated::{Scene, SceneError};

use runproof_interpret::capture::{Drain, End};
use runproof_interpret::judgement::{Finding, FindingKind};
use runproof_interpret::{Capture, LimitSheet, RunKnowledge, judge};
use runproof_records::Kind;

use super::{far_lights, to_earth};
use crate::arguments::{Against, AskForTouch, Check, WhichJig};
use crate::error::{Error, FileError, KeptError};
use crate::exit::Exit;
use crate::files;
use crate::guide::{Guide, Keys};
use crate::jig::{self, Conversation, Jig, SerialPort, SimulatedPort};
use crate::recording::{Recorded, of_check};
use crate::show::progress::{Prompts, Screen};
use crate::show::signs;
use crate::zeros;

/// How long is waited for each phase, at a real jig and at a simulated one. (judgement)
const WAIT: Duration = Duration::from_secs(600);
const SIMULATED_WAIT: Duration = Duration::from_secs(20);

pub(super) fn run(arguments: Check) -> Result<Exit, Error> {
    let test = if arguments.to_earth { Kind::ToEarth } else { Kind::Check };
    let (sheet, sheet_used) = super::lot::sheet_of(
        arguments.about.unit_of_lot(),
        arguments.against.sheet.as_deref(),
        Against::USUAL_SHEET,
        test,
    )?;
    let known = super::known(&arguments.against, &sheet)?;
    if arguments.to_earth {
        to_earth::takes(&known)?;
        if arguments.touch.is_some() {
            return Err(Error::NotToEarth { told: "--touch" });
        }
    } else if arguments.touch == Some(AskForTouch::Always) {
        super::has_terminals("--touch always", &sheet)?;
    }
    let is_simulated = arguments.jig.simulate.is_some();
    let key_is_turned = key_is_turned(&arguments.jig)?;
    let wait_micros = waits(arguments.wait, is_simulated);
    let jig = Jig::meet(begin(arguments.jig)?)?;
    let jig = jig.with(super::now_unix_s(), arguments.plug.name)?;
    super::lot::before(arguments.about.unit_of_lot(), &jig.head().jig.serial)?;
    let zero = zeros::of_plug(&jig, arguments.zero.file.as_deref())?;
    if arguments.rearm {
        jig.rearm()?;
    }
    let save = arguments.keep.save.map(files::new).transpose()?;
    let keys = Keys::listen();
    let far_wait_micros = far_lights::wait_micros(
        arguments.far_lights,
        is_simulated.then_some(key_is_turned),
        keys.any()
            && !arguments.output.json
            && !arguments.yes
            && !arguments.kept
            && !arguments.to_earth,
    );
    let prompts = Prompts {
        far_lights: far_wait_micros.is_some(),
        is_simulated,
        enter: keys.any(),
        short: arguments.output.json,
        cannot_lift: known.cannot_lift,
        thick_wire: known.gauge.is_some_and(|gauge| gauge.may_be_mains()),
    };
    let mut screen = Screen::new(prompts, sheet.clone(), known.landed.clone());
    if let Some(restart) = &jig.conversation().restart {
        screen.restarted(&restart.to_string());
    }
    if !arguments.kept {
        screen.warn();
    }
    let mut tell = |told| screen.tell(told);
    let mut guide = Guide::new(&jig, &mut tell);
    let shield = arguments.shield.map(Drain::from);
    if !arguments.to_earth {
        guide.zeroed(zero);
    }
    let mut taken_ago_s = 0;
    if arguments.kept {
        taken_ago_s = guide.kept().ok_or(KeptError::NothingKept)? / 1_000_000;
    } else if arguments.to_earth && arguments.yes {
        guide.test_to_earth_at_once(shield);
    } else if arguments.to_earth {
        guide.test_to_earth(shield, wait_micros, &keys);
    } else if arguments.yes {
        guide.both();
    } else {
        guide.trip(wait_micros, &keys);
    }
    // Without a terminal nobody may be there to ask, nor to press Enter.
    let somebody = !arguments.yes && !arguments.kept && (keys.any() || is_simulated);
    let default = if somebody { AskForTouch::IfCrossed } else { AskForTouch::Never };
    let ask = arguments.touch.unwrap_or(default);
    for end in [End::Near, End::Far] {
        let landed = known.cannot_lift == Some(end);
        let asked =
            !arguments.to_earth && !landed && is_wanted(ask, guide.capture(), &sheet, &known);
        if !asked || !guide.touches(end, &sheet, wait_micros, &keys) {
            break;
        }
    }
    let mut capture = guide.done();
    capture.head.taken_unix_s =
        capture.head.taken_unix_s.map(|now| now.saturating_sub(taken_ago_s));
    screen.clear();
    let saved = save.map(|(path, file)| files::write(path, file, &capture.write())).transpose();
    let judgement = super::judged(&capture, &sheet, &known)?;
    jig.show(signs::of(&judgement));
    let recorded = super::recorded(arguments.keep.no_record, || {
        of_check(&capture, &judgement, &known, &sheet_used, &arguments.about.details())
    });
    let kept = recorded.as_ref().ok().and_then(Option::as_ref).and_then(Recorded::kept);
    let exit = super::show(&capture, &judgement, &known, arguments.output, kept)?;
    super::told_where(recorded?.as_ref());
    super::lot::after(arguments.about.unit_of_lot())?;
    saved?;
    if let Some(wait_micros) = far_wait_micros {
        far_lights::show(&jig, &capture, &judgement, &mut screen, wait_micros, &keys);
    }
    Ok(exit)
}

/// Whether wires are to be held together, by what is known so far.
fn is_wanted(
    ask: AskForTouch,
    capture: &Capture,
    sheet: &LimitSheet,
    known: &RunKnowledge,
) -> bool {
    let crossed =
        |one: &Finding| one.kind.is_exchange() || one.kind == FindingKind::ColoursDisagree;
    match ask {
        AskForTouch::Never => false,
        AskForTouch::Always => true,
        AskForTouch::IfCrossed => judge(capture, sheet, known).findings.iter().any(crossed),
    }
}

/// In microseconds.
pub(super) fn waits(told: Option<Duration>, is_simulated: bool) -> u64 {
    let wait = told.unwrap_or(if is_simulated { SIMULATED_WAIT } else { WAIT });
    u64::try_from(wait.as_micros()).unwrap_or(u64::MAX)
}

pub(super) fn begin(which: WhichJig) -> Result<Conversation, Error> {
    if let Some(name) = which.simulate {
        return simulated(scene(&name)?, which.seed);
    }
    on_port(which.port.map_or_else(jig::the_attached_jig, Ok)?)
}

pub(super) fn simulated(scene: Scene, seed: u64) -> Result<Conversation, Error> {
    Ok(Conversation::begin("the simulated jig", move || Ok(SimulatedPort::new(scene, seed)))?)
}

pub(super) fn on_port(path: String) -> Result<Conversation, Error> {
    Ok(Conversation::begin(&path.clone(), move || SerialPort::open(&path))?)
}

/// Whether someone turns the key over in a simulated run.
fn key_is_turned(which: &WhichJig) -> Result<bool, Error> {
    let scene = which.simulate.as_deref().map(scene).transpose()?;
    Ok(scene.is_some_and(|scene| scene.key_reversed_s.is_finite()))
}

/// A built-in scene takes some 300 bytes.
const SCENE_BYTES_MAX: usize = 64 << 10;

/// A built-in scene, or one in a file.
fn scene(name: &str) -> Result<Scene, Error> {
    let path = Path::new(name);
    match Scene::built_in(name) {
        Err(SceneError::Unknown(_)) if path.exists() => {}
        known => return Ok(known?),
    }
    scene_in_file(path)
}

pub(super) fn scene_in_file(path: &Path) -> Result<Scene, Error> {
    let text = files::read(path, SCENE_BYTES_MAX)?;
    Scene::read(&text)
        .map_err(|source| Error::File(FileError::NotAScene { path: path.into(), source }))
}
