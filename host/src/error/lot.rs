//! Why a lot could not be opened, shown or closed.

use runproof_quality::lot::NotDeclared;
use runproof_records::Kind;
use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum LotError {
    #[error("there is no lot `{name}`")]
    NoLot { name: String },
    #[error("there is a lot `{name}` already")]
    Exists { name: String },
    #[error("no such lot can be declared: {0}")]
    NotDeclared(#[from] NotDeclared),
    #[error("inspection of the series `{series}` has ended: too many of its lots were rejected")]
    SeriesEnded { series: String },
    #[error("the lot `{name}` has {units} units, none is numbered {unit}")]
    NoUnit { name: String, units: u32, unit: u32 },
    #[error("the lot `{name}` was decided: {said}")]
    Closed { name: String, said: String },
    #[error("the lot `{name}` cannot be decided yet: {why}")]
    NotYet { name: String, why: String },
    #[error("the record of the lot `{name}` is not one that this version can read: {source}")]
    Unreadable { name: String, source: serde_json::Error },
    #[error("a unit of the lot `{name}` counts by another test, `{}`", test.name())]
    OtherTest { name: String, test: Kind },
    #[error("the units of the lot `{name}` are judged by the limit sheet {sheet}")]
    OtherSheet { name: String, sheet: String },
    #[error("record {number} belongs to the lot `{name}`, which was decided by it")]
    Stays { number: i64, name: String },
    #[error("{count} lots are called `{name}` here: one came from another computer")]
    Several { name: String, count: usize },
    #[error(
        "inspection of the series `{series}` has ended, and only tightened inspection takes it up again"
    )]
    OnlyTightened { series: String },
    #[error("record {number} is a lot, not a test")]
    NoTest { number: i64 },
}

impl LotError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NoLot { .. } => {
                "list the lots with `runproof lot`, or declare one with `runproof lot open`".into()
            }
            Self::Exists { name } => {
                format!("show it with `runproof lot show {name}`, or give the new one another name")
            }
            Self::NotDeclared(_) => "put that right, and open it again".into(),
            Self::SeriesEnded { .. } => {
                "when its source has done something about it, begin again with `--severity tightened`".into()
            }
            Self::NoUnit { .. } => "give the unit's number as it was drawn, from 1".into(),
            Self::Closed { .. } => {
                "a lot that was sorted is opened again under another name, with `--again`".into()
            }
            Self::NotYet { name, .. } => format!("`runproof lot show {name}` says what is left to do"),
            Self::OtherTest { test, .. } => {
                format!("take that one, `runproof {}`, or leave `--lot` out", test.name())
            }
            Self::OtherSheet { .. } => "leave `--sheet` out: the lot says which".into(),
            Self::Unreadable { .. } => "use the version of the program that wrote it".into(),
            Self::Stays { .. } => "it stays as it is; open the lot again under another name, with `--again`".into(),
            Self::Several { .. } => {
                "void the record of one of them with `runproof records void NUMBER --reason TEXT`; `runproof records --kind lot` lists them".into()
            }
            Self::OnlyTightened { .. } => "when its source has done something about it, say `--severity tightened`".into(),
            Self::NoTest { .. } => "`runproof lot show` with its name shows it".into(),
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::NotDeclared(_)
            | Self::NoUnit { .. }
            | Self::OtherTest { .. }
            | Self::OtherSheet { .. } => Exit::Usage,
            Self::NotYet { .. } => Exit::CannotTell,
            Self::NoLot { .. }
            | Self::Exists { .. }
            | Self::SeriesEnded { .. }
            | Self::Closed { .. }
            | Self::Stays { .. }
            | Self::Several { .. }
            | Self::OnlyTightened { .. }
            | Self::Unreadable { .. }
            | Self::NoTest { .. } => Exit::BadFile,
        }
    }
}
