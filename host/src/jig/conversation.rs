//! The conversation with a jig: hello, identify, measure.

use std::hash::{BuildHasher, RandomState};
use std::io;
use std::time::{Duration, Instant};

use runproof_interpret::Capture;
use runproof_interpret::capture::{Ending, Entry, Head, PhaseEnd, head_from};
use runproof_protocol::records::{self, KeptPlug};
use runproof_protocol::{
    Capabilities, Command, Event, FarLights, Identity, Key, Microseconds, Phase, Record, Restart,
    Signs, VERSION,
};

use super::link::{Heard, Link};
use super::measurement::{self, SILENCE_MAX, Watch};
use super::{JigError, Port};

/// A jig answers in milliseconds; one that has just been plugged in takes longer.
const ANSWER_WITHIN: Duration = Duration::from_secs(3);
const ASK_AGAIN: Duration = Duration::from_millis(250);
/// A record is kept in up to half a second, as flash is erased for it; asked again too soon it is kept twice.
const KEPT_WITHIN: Duration = Duration::from_secs(10);
const KEEP_AGAIN: Duration = Duration::from_secs(3);

/// A jig that answers, whatever it says of itself.
pub(crate) struct Conversation {
    path: String,
    link: Link,
    pub(crate) capabilities: Capabilities,
    /// Why it started anew by itself, if it did.
    pub(crate) restart: Option<Restart>,
}

impl Conversation {
    /// Opens a port and greets the jig on it. `path` is what messages call it. Whatever a host
    /// before this one left running is ended.
    pub(crate) fn begin<P: Port>(
        path: &str,
        port: impl FnOnce() -> Result<P, JigError> + Send + 'static,
    ) -> Result<Self, JigError> {
        let link = Link::open(port)?;
        let (version, capabilities) = greet(path, &link)?;
        if version != VERSION {
            return Err(JigError::OtherVersion { jig: version });
        }
        settle(path, &link)?;
        Ok(Self { path: path.to_owned(), link, capabilities, restart: None })
    }

    /// Who the jig is, and the values of its parts.
    pub(crate) fn identify(&mut self) -> Result<Identity, JigError> {
        let mut restart = None;
        let identity = answer(&self.path, &self.link, &Command::Identify, |event| match event {
            Event::Identity(identity) => Some(identity),
            Event::Restarted(reason) => {
                restart = Some(reason);
                None
            }
            _ => None,
        });
        self.restart = restart.or(self.restart.take());
        identity
    }

    /// What the jig keeps under this key; an empty record, if nothing, or if it keeps nothing at all.
    pub(crate) fn recall(&self, key: Key) -> Result<Record, JigError> {
        if !self.capabilities.stores {
            return Ok(Record::new());
        }
        let recalled =
            answer(&self.path, &self.link, &Command::Recall { key }, |event| match event {
                Event::Recalled { key: told, record } if told == key => Some(Ok(record)),
                Event::NotKept { key: told, reason } if told == key => Some(Err(reason)),
                _ => None,
            })?;
        recalled.map_err(|reason| JigError::NotRecalled { reason })
    }

    /// Keeps a record on the jig; an empty one forgets what was there.
    pub(crate) fn keep(&self, key: Key, record: Record) -> Result<(), JigError> {
        if !self.capabilities.stores {
            return Err(JigError::KeepsNothing);
        }
        let command = Command::Keep { key, record };
        let kept = answer(&self.path, &self.link, &command, |event| match event {
            Event::Kept { key: told } if told == key => Some(Ok(())),
            Event::NotKept { key: told, reason } if told == key => Some(Err(reason)),
            _ => None,
        })?;
        kept.map_err(|reason| JigError::NotKept { reason })
    }
}

/// A jig that has said who it is, and can be that.
pub(crate) struct Jig {
    conversation: Conversation,
    head: Head,
}

impl Jig {
    /// A jig that can be understood, with the end plug that it keeps.
    pub(crate) fn meet(mut conversation: Conversation) -> Result<Self, JigError> {
        let identity = conversation.identify()?;
        let made_by = concat!("runproof ", env!("CARGO_PKG_VERSION"));
        let mut head = head_from(&identity, made_by)
            .map_err(|part| JigError::ImplausibleParts { path: conversation.path.clone(), part })?;
        // A memory that does not work stands in nobody's way: the identity was told without it.
        let plug = conversation.recall(Key::Plug).unwrap_or_default();
        if let Some(KeptPlug { name, .. }) = records::read(&plug) {
            head.plug.id = name.to_string();
        }
        Ok(Self { conversation, head })
    }

    /// The same, for a test that begins now, with the end plug of this name, if one was told.
    pub(crate) fn with(mut self, taken_unix_s: u64, plug: String) -> Result<Self, JigError> {
        self.head.taken_unix_s = Some(taken_unix_s);
        let kept = &self.head.plug.id;
        if !plug.is_empty() && !kept.is_empty() && *kept != plug {
            return Err(JigError::OtherPlug { kept: kept.clone(), told: plug });
        }
        if !plug.is_empty() {
            self.head.plug.id = plug;
        }
        Ok(self)
    }

    /// Whether it can read a run that may be powered.
    pub(crate) fn reads_live(&self) -> bool {
        self.conversation.capabilities.live
    }

    /// Whether it has a load for the supply of such a run.
    pub(crate) fn loads_supply(&self) -> bool {
        self.conversation.capabilities.supply_load
    }

    /// Whether it knows a fixture for made-up leads.
    pub(crate) fn knows_fixtures(&self) -> bool {
        self.conversation.capabilities.fixture
    }

    /// For its memory.
    pub(crate) fn conversation(&self) -> &Conversation {
        &self.conversation
    }

    /// What its captures begin with.
    pub(crate) fn head(&self) -> &Head {
        &self.head
    }

    /// Clears a latched hazard.
    pub(crate) fn rearm(&self) -> Result<(), JigError> {
        let Conversation { path, link, .. } = &self.conversation;
        answer(path, link, &Command::Rearm, |event| match event {
            Event::Armed => Some(()),
            _ => None,
        })
    }

    /// A capture with nothing measured yet.
    pub(crate) fn capture(&self) -> Capture {
        Capture::new(self.head.clone())
    }

    /// Shows this on its lamps, and sounds it, until it measures again.
    pub(crate) fn show(&self, signs: Signs) {
        let Conversation { link, capabilities, .. } = &self.conversation;
        if capabilities.alone {
            link.send(Command::Show(signs));
        }
    }

    /// Whether its key was pressed since this was last asked.
    pub(crate) fn key_pressed(&self) -> bool {
        self.conversation.link.key_pressed()
    }

    /// What it measured of a phase without a host, if it did.
    pub(crate) fn replay(&self, phase: Phase, capture: &mut Capture) {
        let order = Command::Replay { phase };
        let ending =
            measurement::take(&self.conversation.link, order, phase, capture, &mut |_, _| {});
        capture.end(PhaseEnd { phase, ending });
    }

    /// Measures one phase, in place of what the capture has of it; `watch` sees each of its patterns
    /// as it comes. Whatever ends it, what was read until then is in the capture, and the end behind
    /// it.
    pub(crate) fn measure(&self, phase: Phase, capture: &mut Capture, watch: &mut Watch<'_>) {
        capture.entries.retain(|entry| match entry {
            Entry::Reading(reading) => reading.phase != phase,
            Entry::Rise(rise) => rise.phase != phase,
            Entry::End(end) => end.phase != phase,
            Entry::Warmth(warmth) => warmth.phase != phase,
            Entry::Touch(_)
            | Entry::Zero(_)
            | Entry::LiveZero(_)
            | Entry::ToEarth(_)
            | Entry::At(_)
            | Entry::Reel(_)
            | Entry::ReelAgain
            | Entry::Flex(_) => true,
        });
        let Conversation { path, link, .. } = &self.conversation;
        let ending = match settle(path, link) {
            Ok(()) => {
                let order = Command::Measure { phase };
                measurement::take(link, order, phase, capture, watch)
            }
            Err(error) => Ending::Lost { reason: error.to_string() },
        };
        capture.end(PhaseEnd { phase, ending });
    }

    /// Lights the key's lights at the far end, once through their pattern; says how that ended.
    pub(crate) fn light_far(&self, lights: FarLights) -> Ending {
        let Conversation { path, link, .. } = &self.conversation;
        if let Err(error) = settle(path, link) {
            return Ending::Lost { reason: error.to_string() };
        }
        let order = Command::LightFar(lights);
        measurement::take(link, order, Phase::FarLights, &mut self.capture(), &mut |_, _| {})
    }

    /// The jig's clock, as soon as it says what it shows: twice a second while nothing is measured.
    pub(crate) fn time(&self) -> io::Result<Microseconds> {
        loop {
            if let Some(Event::Heartbeat { at }) = self.hear()? {
                return Ok(at);
            }
        }
    }

    /// The next event; none for bytes that are no event: what they were is missed later.
    fn hear(&self) -> io::Result<Option<Event>> {
        match self.conversation.link.hear(Instant::now() + SILENCE_MAX) {
            Some(Heard::Event(event)) => Ok(Some(*event)),
            Some(Heard::Damaged) => Ok(None),
            Some(Heard::Lost(error)) => Err(error),
            None => Err(io::Error::new(io::ErrorKind::TimedOut, "the jig fell silent")),
        }
    }
}

/// The version of the jig there, and what it can do. What was heard before its answer is from an earlier
/// conversation: only this hello has the nonce that comes back.
fn greet(path: &str, link: &Link) -> Result<(u16, Capabilities), JigError> {
    let nonce = RandomState::new().hash_one(path) as u32;
    answer(path, link, &Command::Hello { version: VERSION, nonce }, |event| match event {
        Event::Hello { version, nonce: back, capabilities } if back == nonce => {
            Some((version, capabilities))
        }
        _ => None,
    })
}

/// Ends what the jig is measuring, whoever ordered it, and passes over what it still had to say.
fn settle(path: &str, link: &Link) -> Result<(), JigError> {
    link.send(Command::Abort);
    greet(path, link).map(|_| ())
}

/// Asks until the answer comes.
fn answer<T>(
    path: &str,
    link: &Link,
    command: &Command,
    mut wanted: impl FnMut(Event) -> Option<T>,
) -> Result<T, JigError> {
    let (within, again) = match command {
        Command::Keep { .. } => (KEPT_WITHIN, KEEP_AGAIN),
        _ => (ANSWER_WITHIN, ASK_AGAIN),
    };
    let give_up = Instant::now() + within;
    let mut damaged = false;
    while Instant::now() < give_up {
        link.send(command.clone());
        let ask_again = Instant::now() + again;
        while let Some(heard) = link.hear(ask_again) {
            match heard {
                Heard::Event(event) => {
                    if let Some(answer) = wanted(*event) {
                        return Ok(answer);
                    }
                }
                Heard::Damaged => damaged = true,
                Heard::Lost(error) => return Err(JigError::Lost(error)),
            }
        }
    }
    let path = path.to_owned();
    Err(if damaged { JigError::NotAJig { path } } else { JigError::Silent { path } })
}
