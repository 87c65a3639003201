//! How the bench stands: power, and the ends of the run; and what has to be done until it stands as a step needs it.

use serde::{Deserialize, Serialize};

/// How it stands, or must stand; absent: not known, or whichever.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bench {
    /// Power at every unit.
    pub power: Option<Power>,
    /// The ends of the run.
    pub ends: Option<Ends>,
}

/// Power at every unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Power {
    /// Switched on.
    On,
    /// Switched off, and kept off.
    Off,
}

/// The ends of the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ends {
    /// Every conductor on its terminal at both ends, the control on its plate.
    Landed,
    /// The same, with the control off its plate.
    PlateOpen,
    /// Some conductors lifted at the unit.
    UnitLifted,
    /// Every conductor lifted at both ends.
    Lifted,
    /// The same, and a temporary cable between the units.
    Bypassed,
}

/// One thing to do before a step, in the order that it is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Change {
    /// Switch power off.
    PowerOff,
    /// Take the temporary cable off.
    TemporaryOff,
    /// Take jig and end plug off the run.
    ClipsOff,
    /// Lift every conductor at both ends.
    Lift,
    /// Land every conductor again.
    Land,
    /// See that every conductor is landed: nobody said how it is.
    SeeLanded,
    /// Take the control off its plate.
    ControlOff,
    /// Put it back.
    ControlBack,
    /// Switch power on, last.
    PowerOn,
}

impl Bench {
    /// How it stands once it was brought to that.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        Self { power: next.power.or(self.power), ends: next.ends.or(self.ends) }
    }

    /// What has to be done until it stands so; nothing where it does. No wire is moved, and no control, with
    /// power on.
    #[must_use]
    pub fn changes(self, need: Self) -> Vec<Change> {
        let moved = need.ends.map(|ends| moved(self.ends, ends)).unwrap_or_default();
        let touches = moved.iter().any(|one| *one != Change::SeeLanded);
        let off = self.power != Some(Power::Off) && (touches || need.power == Some(Power::Off));
        let on = need.power == Some(Power::On) && (off || self.power != Some(Power::On));
        let mut changes = vec![];
        changes.extend(off.then_some(Change::PowerOff));
        changes.extend(moved);
        changes.extend(on.then_some(Change::PowerOn));
        changes
    }
}

impl Bench {
    /// What brings it back into service: only what is known to be open.
    #[must_use]
    pub fn closing(self) -> Vec<Change> {
        let ends = self.ends.map(|_| Ends::Landed);
        let is_open = ends.is_some_and(|ends| !moved(self.ends, ends).is_empty());
        let power = (is_open || self.power.is_some()).then_some(Power::On);
        self.changes(Self { power, ends })
    }
}

fn moved(from: Option<Ends>, to: Ends) -> Vec<Change> {
    use Ends::{Bypassed, Landed, Lifted, PlateOpen, UnitLifted};
    if from == Some(to) {
        return vec![];
    }
    let mut changes = vec![];
    changes.extend((from == Some(Bypassed) && to != Bypassed).then_some(Change::TemporaryOff));
    match to {
        Lifted | Bypassed => {
            changes.extend((!matches!(from, Some(Lifted | Bypassed))).then_some(Change::Lift));
        }
        Landed | PlateOpen | UnitLifted => {
            let is_up = matches!(from, Some(Lifted | Bypassed | UnitLifted));
            changes.extend((from == Some(Lifted)).then_some(Change::ClipsOff));
            changes.extend((is_up && from != Some(to)).then_some(Change::Land));
            changes.extend(from.is_none().then_some(Change::SeeLanded));
            changes.extend((to == PlateOpen).then_some(Change::ControlOff));
            let off = matches!(from, Some(PlateOpen | Lifted | Bypassed));
            changes.extend((off && to != PlateOpen).then_some(Change::ControlBack));
        }
    }
    changes
}
