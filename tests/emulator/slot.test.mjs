// How long the unmodified image takes for a slot and for a phase, beside the conversions that these are made of.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { Bench, builtInScene } from './testing/bench.mjs';
import { MEASURE, MEASURE_LIVE, MEASURE_OPEN, MEASURE_SUPPLY_LOAD } from './testing/frames.mjs';

const SENSE = 0x48, DRIVE = 0x49;
const POINTER_CONFIG = 1;
/** ADS1115 data sheet SBAS444E: 860 samples a second, and 25 µs to wake. */
const CONVERSION_MS = 1e3 / 860 + 0.025;
/** Slots that are followed by another of their pattern: of self-calibration, pre-scan and pairs three of four. */
const SLOTS = (8 + 6 + 24) * 3;
const SLOT_MAX_MS = 1.9;
/** How often a converter is started, by phase; what is between is settling, pace and the host. */
const PHASES = { open: [MEASURE_OPEN, 1.85], plug: [MEASURE, 1.8] };

/** A jig whose sense and drive converters run within 0.2 % of their nominal oscillator, and not below it. */
const NOMINAL_SEED = 7246;

/** Notes when which converter is started, in ms, and where a pattern is driven or let go of in between. */
async function noting(seed = 1) {
  const starts = [];
  let address, world;
  const change = (real) => {
    world = real;
    return {
      ...real,
      set_drive: (...all) => {
        starts.push({ driven: true });
        return real.set_drive(...all);
      },
      i2c_start: (asked, read, at) => {
        address = read ? undefined : asked;
        return real.i2c_start(asked, read, at);
      },
      i2c_write: (byte, at) => {
        if (address !== undefined && byte === POINTER_CONFIG) starts.push({ address, ms: at / 1e6 });
        address = undefined;
        return real.i2c_write(byte, at);
      },
    };
  };
  const bench = await Bench.start({ scene: builtInScene('good-run'), seed, change });
  return { bench, starts, conversionMs: (converter) => world.conversion_nanos(converter) / 1e6 + 0.025 };
}

test('a slot of two converters takes at most 1.90 ms at the nominal oscillator', async () => {
  const { bench, starts, conversionMs } = await noting(NOMINAL_SEED);
  for (const converter of [0, 1]) {
    const off = conversionMs(converter) / CONVERSION_MS - 1;
    assert.ok(off <= 0 && off > -0.002, `converter ${converter} is ${off} off`);
  }
  bench.jig.host.send(MEASURE);
  bench.until('done');
  const slots = [];
  for (let i = 0; i + 2 < starts.length; i++) {
    const [sense, drive, next] = starts.slice(i, i + 3);
    const together = sense.address === SENSE && drive.address === DRIVE && next.address === SENSE;
    if (!together) continue;
    const later = drive.ms - sense.ms;
    const converted = Math.max(conversionMs(0), later + conversionMs(1));
    slots.push(next.ms - sense.ms - converted + later + CONVERSION_MS);
  }
  slots.sort((a, b) => a - b);
  console.log(`${slots.length} slots: median ${slots[slots.length >> 1].toFixed(3)} ms, longest ${slots.at(-1).toFixed(3)} ms`);
  assert.equal(slots.length, SLOTS);
  assert.ok(slots.at(-1) <= SLOT_MAX_MS, `${slots.at(-1)} ms`);
});

for (const [phase, [order, most]] of Object.entries(PHASES)) {
  test(`the ${phase} phase takes at most ${most} times its conversions`, async () => {
    const { bench, starts } = await noting();
    const from = bench.jig.nanos;
    bench.jig.host.send(order);
    bench.until('done');
    const tookMs = (bench.jig.nanos - from) / 1e6;
    const converted = starts.filter((one) => !one.driven);
    const slots = converted.filter((one, i) => one.address !== DRIVE || converted[i - 1]?.address !== SENSE).length;
    const times = tookMs / (slots * CONVERSION_MS);
    console.log(`${phase}: ${tookMs.toFixed(0)} ms, ${slots} slots, ${times.toFixed(2)} times their conversions`);
    assert.ok(times <= most, `${times}`);
  });
}

test('a live reading, the supply loaded and all, takes at most half a second', async () => {
  const { bench } = await noting();
  const from = bench.jig.nanos;
  const took = [MEASURE_LIVE, MEASURE_SUPPLY_LOAD].map((order) => {
    bench.jig.host.send(order);
    bench.until('done');
    return (bench.jig.nanos - from) / 1e6;
  });
  console.log(`live: ${took[0].toFixed(0)} ms, with the supply load ${took[1].toFixed(0)} ms`);
  assert.ok(took[0] > 300 && took[1] > took[0] + 50 && took[1] <= 500, `${took} ms`);
});
