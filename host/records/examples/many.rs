//! Writes a store of many records, for checks from outside: real ones again and again, or short ones as an earlier version
//! might have written them, which nobody judges again.
//!
//!     many STORE COUNT REAL_EACH JOB CLOCK_OFF_S < WHOLE
//!
//! WHOLE is what `records export --as whole` wrote; every REAL_EACHth record is one of its. CLOCK_OFF_S: how wrong the clock is.

use std::io::BufRead;
use std::path::Path;
use std::time::{Duration, SystemTime};

use runproof_records::jiff::Timestamp;
use runproof_records::uuid::{NoContext, Timestamp as IdTime, Uuid};
use runproof_records::{Detail, Key, Packed, Record, Store};

/// Kept in one transaction.
const AT_ONCE: usize = 500;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [store, count, real_each, job, clock_off_s] = arguments.as_slice() else {
        panic!("many STORE COUNT REAL_EACH JOB CLOCK_OFF_S < WHOLE")
    };
    let number = |text: &String| text.parse::<i64>().expect("a number");
    let (count, real_each, clock_off_s) = (number(count), number(real_each), number(clock_off_s));
    let lines = std::io::stdin().lock().lines().map(|line| line.expect("a line"));
    let real: Vec<Record> = lines.map(|line| Record::read(&line).expect("a record")).collect();
    let mut store = Store::open(Path::new(store)).expect("a store");
    let all: Vec<i64> = (0..count).collect();
    for numbers in all.chunks(AT_ONCE) {
        let batch: Vec<_> = numbers
            .iter()
            .map(|n| {
                let at = usize::try_from(*n).expect("small") % real.len();
                let record = real[at].clone();
                let mine = Record {
                    id: id(clock_off_s),
                    taken: record.taken.map(|_| now(clock_off_s)),
                    details: details(job, *n, clock_off_s),
                    ..record
                };
                Packed::of(&if n % real_each == 0 { mine } else { short(mine, *n) })
            })
            .collect();
        store.save_all(&batch).expect("room");
    }
}

fn short(real: Record, n: i64) -> Record {
    Record {
        program: "runproof 0.0.9".into(),
        capture: format!("{{\"reading\":{n}}}\n"),
        result: format!("{{\"n\":{n}}}"),
        ..real
    }
}

fn now(off_s: i64) -> Timestamp {
    let ms = Timestamp::now().as_millisecond() + off_s * 1000;
    Timestamp::from_millisecond(ms).expect("a time")
}

fn id(off_s: i64) -> Uuid {
    let off = Duration::from_secs(off_s.unsigned_abs());
    let now = SystemTime::now();
    let now = if off_s < 0 { now - off } else { now + off };
    let since = now.duration_since(SystemTime::UNIX_EPOCH).expect("after 1970");
    Uuid::new_v7(IdTime::from_unix(NoContext, since.as_secs(), since.subsec_nanos()))
}

fn details(job: &str, n: i64, off_s: i64) -> Vec<Detail> {
    let said = [
        (Key::Job, job.to_owned()),
        (Key::RunName, format!("run {n}")),
        (Key::Note, "− Ω 数据 'quoted'".into()),
    ];
    let said = said.map(|(key, value)| Detail { id: id(off_s), said: now(off_s), key, value });
    said.into_iter().collect()
}
