//! The power goes in the middle of every step of storing: what is kept is the old or the new record, never
//! garbage, and the next one can be stored.

use runproof_firmware::boards::simulated::Memory;
use runproof_firmware::keep::{Keep, Records};
use runproof_protocol::records::{self, KeptPlug, KeptZero, Name};
use runproof_protocol::{
    JigParts, Key, Microohms, Millicelsius, Milliohms, Nanoohms, NotKept, Plug, Record,
};

/// Enough for every sector to be erased a dozen times.
const STORES: usize = 208;

/// Of the cuts, how many apart are those that are followed by a second one, and these in turn.
const APART: usize = 97;

/// A record of each kind in turn, each time another.
fn next(n: usize) -> (Key, Record) {
    let key = Key::ALL[n % Key::ALL.len()];
    let ohm = Milliohms(20_000 + n as u64 * 317);
    let plug = KeptPlug {
        name: format!("plug {n}").as_str().try_into().expect("short"),
        plug: Plug { ring: [ohm; 4], tolerance_ppm: n as u32 },
    };
    let record = match key {
        Key::Zero => records::written(&KeptZero {
            ohm: [Microohms(20_000_000 + n as u32); 6],
            u: [Nanoohms(99_999 + n as u32); 6],
            jig: Some(Millicelsius(21_000 - n as i32)),
            taken_unix_s: 1_790_000_000 + n as u64,
            series: [Milliohms(346_000); 4],
            plug,
        }),
        Key::Plug => records::written(&plug),
        Key::Name => records::written(&"n".repeat(n % 25).parse::<Name>().expect("24")),
        Key::Parts => records::written(&JigParts {
            series: [ohm; 4],
            series_tolerance_ppm: 1_000,
            pull: Milliohms(100_000_000),
            divider: Milliohms(4_522_000_000),
            sense: ohm,
        }),
    };
    (key, record.expect("fits"))
}

type Kept = [Record; 4];

/// All that is kept, as a jig finds it that was just powered up.
fn kept(memory: &mut Memory) -> Result<Kept, NotKept> {
    let mut records = Records::new(memory);
    let mut all = Kept::default();
    for key in Key::ALL {
        all[key as usize] = records.recall(key)?;
    }
    Ok(all)
}

#[test]
fn every_cut_leaves_the_old_or_the_new_record() {
    let mut memory = Memory::default();
    let mut old = Kept::default();
    let (mut cuts, mut second_cuts) = (0, 0);
    for n in 0..STORES {
        let (key, record) = next(n);
        let mut new = old.clone();
        new[key as usize] = record.clone();
        let before = memory.clone();
        Records::new(&mut memory).keep(key, &record).expect("the power is on");
        assert_eq!(kept(&mut memory), Ok(new.clone()), "store {n}");
        let steps = memory.steps - before.steps;
        for after in 0..steps {
            let mut cut = before.clone();
            cut_while_storing(&mut cut, after, key, &record);
            let found = kept(&mut cut).expect("the power is on");
            assert!(found == old || found == new, "store {n}, {after}: {found:?}");
            cuts += 1;
            for again in (0..steps).step_by(APART).filter(|_| after.is_multiple_of(APART)) {
                let mut twice = cut.clone();
                cut_while_storing(&mut twice, again, key, &record);
                let found = kept(&mut twice).expect("the power is on");
                assert!(found == old || found == new, "store {n}, {after}, {again}: {found:?}");
                second_cuts += 1;
            }
            Records::new(&mut cut).keep(key, &record).expect("the power is on");
            assert_eq!(kept(&mut cut), Ok(new.clone()), "store {n}, {after}: then stored");
        }
        old = new;
    }
    println!(
        "{cuts} cuts in {STORES} stores, {} erased sectors; {second_cuts} second cuts",
        memory.erased
    );
    assert!(memory.erased >= STORES / 4 - 4, "only {} sectors were erased", memory.erased);
    assert!(cuts > 100_000 && second_cuts > 10_000, "{cuts} cuts, {second_cuts} second ones");
}

/// The power goes in the middle of this step, and comes back.
fn cut_while_storing(memory: &mut Memory, after: usize, key: Key, record: &Record) {
    memory.cut_power(after);
    let told = Records::new(&mut *memory).keep(key, record);
    assert_eq!(told, Err(NotKept::Fault), "step {after}: said to be kept");
    memory.power_up();
}

/// Another program's leavings: nothing is kept there, until something is stored.
#[test]
fn a_flash_full_of_anything_is_taken_over() {
    let mut state = 1_u32;
    let noise = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 24) as u8
    };
    for mut memory in [Memory::filled(noise), Memory::filled(|| 0), Memory::filled(|| 0xA5)] {
        assert_eq!(kept(&mut memory), Ok(Kept::default()));
        for n in 0..8 {
            let (key, record) = next(n);
            assert_eq!(Records::new(&mut memory).keep(key, &record), Ok(()));
            assert_eq!(Records::new(&mut memory).recall(key), Ok(record));
        }
    }
}

/// An empty record is one that was forgotten.
#[test]
fn what_is_forgotten_stays_forgotten() {
    let mut memory = Memory::default();
    for n in 0..8 {
        let (key, record) = next(n);
        Records::new(&mut memory).keep(key, &record).expect("kept");
    }
    Records::new(&mut memory).keep(Key::Zero, &Record::new()).expect("forgotten");
    let found = kept(&mut memory).expect("told");
    assert!(found[Key::Zero as usize].is_empty() && !found[Key::Plug as usize].is_empty());
}
