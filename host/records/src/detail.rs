//! What somebody says about a record: whose run it was, where, why it was tested.

use std::str::FromStr;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Something that was said about a record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Detail {
    /// A UUIDv7: the later of two is the larger.
    pub id: Uuid,
    /// When it was said.
    pub said: Timestamp,
    /// What it is.
    pub key: Key,
    /// As it was said.
    pub value: String,
}

/// What can be said about a record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Key {
    /// Who measured.
    Operator,
    /// The job or ticket.
    Job,
    /// What the run is called.
    RunName,
    /// What a shop calls the reel.
    Reel,
    /// Where it is.
    Place,
    /// The equipment's model.
    EquipmentModel,
    /// The equipment's serial.
    EquipmentSerial,
    /// When the equipment was installed.
    EquipmentInstalled,
    /// What the caller said.
    Symptom,
    /// How warm it was.
    Temperature,
    /// A remark; there may be several.
    Note,
    /// A picture's file; there may be several.
    Photo,
    /// The lot that it belongs to, or the name of the lot itself.
    Lot,
    /// Which unit of the lot it is of.
    Unit,
    /// What was looked at on a lot's units before any was tested, JSON; there may be several.
    Identity,
    /// How a lot was decided and what was done with it, JSON.
    Closed,
    /// Why the record no longer counts.
    Void,
}

impl Key {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 17] = [
        Self::Operator,
        Self::Job,
        Self::RunName,
        Self::Reel,
        Self::Place,
        Self::EquipmentModel,
        Self::EquipmentSerial,
        Self::EquipmentInstalled,
        Self::Symptom,
        Self::Temperature,
        Self::Note,
        Self::Photo,
        Self::Lot,
        Self::Unit,
        Self::Identity,
        Self::Closed,
        Self::Void,
    ];

    /// As it is stored.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Operator => "operator",
            Self::Job => "job",
            Self::RunName => "run-name",
            Self::Reel => "reel",
            Self::Place => "place",
            Self::EquipmentModel => "equipment-model",
            Self::EquipmentSerial => "equipment-serial",
            Self::EquipmentInstalled => "equipment-installed",
            Self::Symptom => "symptom",
            Self::Temperature => "temperature",
            Self::Note => "note",
            Self::Photo => "photo",
            Self::Lot => "lot",
            Self::Unit => "unit",
            Self::Identity => "identity",
            Self::Closed => "closed",
            Self::Void => "void",
        }
    }

    /// All values of it count, not only the last.
    #[must_use]
    pub fn is_many(self) -> bool {
        matches!(self, Self::Note | Self::Photo | Self::Identity)
    }
}

impl FromStr for Key {
    type Err = ();

    fn from_str(text: &str) -> Result<Self, ()> {
        Self::ALL.into_iter().find(|key| key.name() == text).ok_or(())
    }
}

impl Detail {
    /// Said now, as a store keeps time: by the millisecond.
    #[must_use]
    pub fn new(key: Key, value: impl Into<String>) -> Self {
        let now = Timestamp::now();
        let said = Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now);
        Self { id: Uuid::now_v7(), said, key, value: value.into() }
    }
}

/// What counts of a key that has one value: what was said last.
#[must_use]
pub fn latest(details: &[Detail], key: Key) -> Option<&str> {
    let of_key = details.iter().filter(|detail| detail.key == key);
    of_key.max_by_key(|detail| detail.id).map(|detail| detail.value.as_str())
}

#[test]
fn the_last_word_counts() {
    let said = [Detail::new(Key::Job, "1047"), Detail::new(Key::Job, "1048")];
    assert_eq!(latest(&said, Key::Job), Some("1048"));
    assert_eq!(latest(&said, Key::Place), None);
    let [first, second] = said;
    assert_eq!(latest(&[second, first], Key::Job), Some("1048"), "in whatever order they come");
}
