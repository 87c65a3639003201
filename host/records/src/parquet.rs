//! Records as Parquet: the columns of the CSV, with types, and null for what is missing.

use std::borrow::Cow;
use std::io;
use std::sync::Arc;

use ::parquet::basic::Compression;
use ::parquet::data_type::{BoolType, ByteArray, ByteArrayType, Int64Type};
use ::parquet::errors::ParquetError;
use ::parquet::file::properties::WriterProperties;
use ::parquet::file::writer::SerializedFileWriter;
use ::parquet::schema::parser::parse_message_type;

use crate::record::verdict_name;
use crate::{Filter, Key, Listed, Store, StoreError, latest};

/// So many are held in memory, and written as one row group.
const ROWS: usize = 10_000;

/// A column: its name, and what it has of a record.
struct Column {
    name: &'static str,
    of: Of,
}

type Maybe = Box<dyn Fn(&Listed) -> Option<String>>;

enum Of {
    Number(fn(&Listed) -> i64),
    /// Milliseconds since 1970, UTC.
    Time(fn(&Listed) -> Option<i64>),
    Flag(fn(&Listed) -> bool),
    /// Every record has it, be it empty.
    Text(fn(&Listed) -> Cow<'_, str>),
    MaybeText(Maybe),
    /// Every record has them, be there none.
    Texts(fn(&Listed) -> &[String]),
    /// Null where there is none.
    MaybeTexts(Key),
}

impl Store {
    /// Writes the records that are looked for; says how many.
    pub fn write_parquet(
        &self,
        filter: &Filter,
        to: impl io::Write + Send,
    ) -> Result<io::Result<u64>, StoreError> {
        let columns = columns();
        let properties = WriterProperties::builder().set_compression(Compression::SNAPPY).build();
        let schema = parse_message_type(&schema(&columns))
            .unwrap_or_else(|error| unreachable!("the columns are fixed: {error}"));
        let mut writer = match SerializedFileWriter::new(to, Arc::new(schema), Arc::new(properties))
        {
            Ok(writer) => writer,
            Err(error) => return Ok(Err(plain(error))),
        };
        let mut rows = Vec::new();
        let mut count = 0;
        let mut written = Ok(());
        self.each(filter, &mut |one| {
            count += 1;
            rows.push(one);
            if written.is_ok() && rows.len() == ROWS {
                written = group(&mut writer, &columns, &rows);
                rows.clear();
            }
        })?;
        let written = written
            .and_then(
                |()| if rows.is_empty() { Ok(()) } else { group(&mut writer, &columns, &rows) },
            )
            .and_then(|()| writer.close());
        Ok(written.map(|_| count).map_err(plain))
    }
}

fn plain(error: ParquetError) -> io::Error {
    match error {
        ParquetError::External(source) => match source.downcast::<io::Error>() {
            Ok(error) => *error,
            Err(other) => io::Error::other(other),
        },
        other => io::Error::other(other),
    }
}

/// In the order of the CSV's.
fn columns() -> Vec<Column> {
    let column = |name, of| Column { name, of };
    let maybe = |of: fn(&Listed) -> Option<String>| Of::MaybeText(Box::new(of));
    let mut columns = vec![
        column("number", Of::Number(|one| one.number)),
        column("id", Of::Text(|one| one.id.to_string().into())),
        column("kind", Of::Text(|one| one.kind.name().into())),
        column("taken_utc", Of::Time(|one| one.taken.map(|taken| taken.as_millisecond()))),
        column("zone", Of::Text(|one| Cow::from(&one.zone))),
        column("verdict", maybe(|one| one.verdict.map(|verdict| verdict_name(verdict).to_owned()))),
        column("said", Of::Text(|one| Cow::from(&one.said))),
        column("found", Of::Texts(|one| &one.found)),
        column("simulated", Of::Flag(|one| one.simulated)),
        column("jig", Of::Text(|one| Cow::from(&one.jig))),
        column("firmware", Of::Text(|one| Cow::from(&one.firmware))),
        column("program", Of::Text(|one| Cow::from(&one.program))),
        column(
            "sheet",
            maybe(|one| one.sheet.as_ref().map(|(name, version)| format!("{name} {version}"))),
        ),
        column("capture_sha256", Of::Text(|one| Cow::from(&one.capture_sha256))),
    ];
    columns.extend(Key::ALL.map(|key| {
        let last = move |one: &Listed| latest(&one.details, key).map(str::to_owned);
        let of = if key.is_many() { Of::MaybeTexts(key) } else { Of::MaybeText(Box::new(last)) };
        column(key.name(), of)
    }));
    columns
}

fn schema(columns: &[Column]) -> String {
    let each = columns.iter().map(|Column { name, of }| match of {
        Of::Number(_) => format!("required int64 {name};"),
        Of::Time(_) => format!("optional int64 {name} (TIMESTAMP(MILLIS,true));"),
        Of::Flag(_) => format!("required boolean {name};"),
        Of::Text(_) => format!("required binary {name} (STRING);"),
        Of::MaybeText(_) => format!("optional binary {name} (STRING);"),
        Of::Texts(_) => list("required", name),
        Of::MaybeTexts(_) => list("optional", name),
    });
    format!("message record {{ {} }}", each.collect::<Vec<_>>().join(" "))
}

fn list(is: &str, name: &str) -> String {
    format!(
        "{is} group {name} (LIST) {{ repeated group list {{ required binary element (STRING); }} }}"
    )
}

fn group<W: io::Write + Send>(
    writer: &mut SerializedFileWriter<W>,
    columns: &[Column],
    rows: &[Listed],
) -> Result<(), ParquetError> {
    let mut group = writer.next_row_group()?;
    for Column { of, .. } in columns {
        let Some(mut column) = group.next_column()? else { break };
        match of {
            Of::Number(of) => {
                let values: Vec<i64> = rows.iter().map(of).collect();
                column.typed::<Int64Type>().write_batch(&values, None, None)?;
            }
            Of::Time(of) => {
                let each: Vec<_> = rows.iter().map(of).collect();
                let values: Vec<i64> = each.iter().copied().flatten().collect();
                column.typed::<Int64Type>().write_batch(&values, Some(&is_there(&each)), None)?;
            }
            Of::Flag(of) => {
                let values: Vec<bool> = rows.iter().map(of).collect();
                column.typed::<BoolType>().write_batch(&values, None, None)?;
            }
            Of::Text(of) => {
                let values: Vec<ByteArray> =
                    rows.iter().map(|one| of(one).as_ref().into()).collect();
                column.typed::<ByteArrayType>().write_batch(&values, None, None)?;
            }
            Of::MaybeText(of) => {
                let each: Vec<Option<String>> = rows.iter().map(of).collect();
                let levels = is_there(&each);
                let values: Vec<ByteArray> =
                    each.iter().flatten().map(|text| text.as_str().into()).collect();
                column.typed::<ByteArrayType>().write_batch(&values, Some(&levels), None)?;
            }
            Of::Texts(of) => {
                let texts = |one| of(one).iter().map(String::as_str).collect();
                let Lists { values, is, begins } = Lists::of(rows.iter().map(texts), 0);
                column.typed::<ByteArrayType>().write_batch(&values, Some(&is), Some(&begins))?;
            }
            Of::MaybeTexts(key) => {
                let Lists { values, is, begins } =
                    Lists::of(rows.iter().map(|one| all(one, *key)), 1);
                column.typed::<ByteArrayType>().write_batch(&values, Some(&is), Some(&begins))?;
            }
        }
        column.close()?;
    }
    group.close()?;
    Ok(())
}

fn all(one: &Listed, key: Key) -> Vec<&str> {
    one.details
        .iter()
        .filter(|detail| detail.key == key)
        .map(|detail| detail.value.as_str())
        .collect()
}

fn is_there<T>(each: &[Option<T>]) -> Vec<i16> {
    each.iter().map(|one| i16::from(one.is_some())).collect()
}

/// Lists of texts, as Parquet has them: all texts in a row, and for each whether it is there and whether it goes on with the
/// list before it. A list with nothing in it has a place as well.
#[derive(Default)]
struct Lists {
    values: Vec<ByteArray>,
    is: Vec<i16>,
    begins: Vec<i16>,
}

impl Lists {
    /// `above`: 1 where a list itself may be missing.
    fn of<'a>(each: impl Iterator<Item = Vec<&'a str>>, above: i16) -> Self {
        let mut lists = Self::default();
        for texts in each {
            if texts.is_empty() {
                lists.is.push(0);
                lists.begins.push(0);
            }
            for (n, text) in texts.into_iter().enumerate() {
                lists.values.push(text.into());
                lists.is.push(above + 1);
                lists.begins.push(i16::from(n > 0));
            }
        }
        lists
    }
}
