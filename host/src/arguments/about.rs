//! What is said about a test beside what is measured: it goes into the record.

use std::path::PathBuf;

use clap::Args;
use runproof_records::{Detail, Key};

/// Longer is no remark any more.
const LETTERS_MAX: usize = 4_000;

#[derive(Debug, Args)]
#[command(next_help_heading = "What the record says beside")]
pub(crate) struct About {
    #[command(flatten)]
    whose: Whose,

    /// The equipment's model
    #[arg(long, value_name = "TEXT", value_parser = said)]
    equipment_model: Option<Said>,

    /// The equipment's serial
    #[arg(long, value_name = "TEXT", value_parser = said)]
    equipment_serial: Option<Said>,

    /// When the equipment was installed
    #[arg(long, value_name = "TEXT", value_parser = said)]
    equipment_installed: Option<Said>,

    /// What the caller said
    #[arg(long, value_name = "TEXT", value_parser = said)]
    symptom: Option<Said>,

    /// How warm it was there, in your words
    #[arg(long, value_name = "TEXT", value_parser = said)]
    temperature: Option<Said>,
}

/// What can be said of a test of whatever kind.
#[derive(Debug, Args)]
#[command(next_help_heading = "What the record says beside")]
pub(crate) struct Whose {
    /// Who measures
    #[arg(long, value_name = "TEXT", env = "RUNPROOF_OPERATOR", value_parser = said, hide_env_values = true)]
    operator: Option<Said>,

    /// The job or ticket
    #[arg(long, value_name = "TEXT", env = "RUNPROOF_JOB", value_parser = said, hide_env_values = true)]
    job: Option<Said>,

    /// What the run is called
    #[arg(long, value_name = "TEXT", value_parser = said)]
    run_name: Option<Said>,

    /// Where it is
    #[arg(long, value_name = "TEXT", value_parser = said)]
    place: Option<Said>,

    /// The lot that it is a unit of, as it was opened with `runproof lot open`
    #[arg(long, value_name = "LOT", value_parser = said, requires = "unit")]
    lot: Option<Said>,

    /// Which unit of the lot: its number, as it was drawn
    #[arg(long, value_name = "NUMBER", requires = "lot")]
    unit: Option<u32>,

    /// A remark; may be given several times
    #[arg(long, value_name = "TEXT", value_parser = said)]
    note: Vec<Said>,

    /// A picture's file, which stays where it is; may be given several times
    #[arg(long, value_name = "FILE", value_parser = picture)]
    photo: Vec<PathBuf>,
}

/// A text that says something, or none: an environment variable may be empty.
#[derive(Clone, Debug)]
struct Said(String);

type Told<'a> = (Key, &'a Option<Said>);

impl About {
    /// The lot and its unit, where it is one.
    pub(crate) fn unit_of_lot(&self) -> Option<(&str, u32)> {
        self.whose.unit_of_lot()
    }

    /// As it goes into the record.
    pub(crate) fn details(&self) -> Vec<Detail> {
        let more = [
            (Key::EquipmentModel, &self.equipment_model),
            (Key::EquipmentSerial, &self.equipment_serial),
            (Key::EquipmentInstalled, &self.equipment_installed),
            (Key::Symptom, &self.symptom),
            (Key::Temperature, &self.temperature),
        ];
        self.whose.with(&more)
    }
}

impl Whose {
    /// The lot and its unit, where it is one.
    pub(crate) fn unit_of_lot(&self) -> Option<(&str, u32)> {
        Some((&self.lot.as_ref()?.0, self.unit?))
    }

    /// As it goes into the record.
    pub(crate) fn details(&self) -> Vec<Detail> {
        self.with(&[])
    }

    fn with(&self, more: &[Told<'_>]) -> Vec<Detail> {
        let whose = [
            (Key::Operator, &self.operator),
            (Key::Job, &self.job),
            (Key::RunName, &self.run_name),
            (Key::Place, &self.place),
            (Key::Lot, &self.lot),
        ];
        let unit = self.unit.map(|unit| (Key::Unit, unit.to_string()));
        let one = whose.iter().chain(more);
        let one = one.filter_map(|(key, said)| Some((*key, said.as_ref()?.0.clone())));
        let notes = self.note.iter().map(|said| (Key::Note, said.0.clone()));
        let photos = self.photo.iter().map(|path| (Key::Photo, path.display().to_string()));
        let all = one.chain(unit).chain(notes).chain(photos).filter(|(_, value)| !value.is_empty());
        all.map(|(key, value)| Detail::new(key, value)).collect()
    }
}

fn said(text: &str) -> Result<Said, String> {
    let text = text.trim();
    if text.chars().count() > LETTERS_MAX {
        return Err(format!("{LETTERS_MAX} letters at most"));
    }
    Ok(Said(text.to_owned()))
}

fn picture(text: &str) -> Result<PathBuf, String> {
    let path = std::path::absolute(text).map_err(|error| error.to_string())?;
    if path.is_file() { Ok(path) } else { Err("there is no such file".into()) }
}
