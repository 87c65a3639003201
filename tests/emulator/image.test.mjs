// The unmodified image: what only a chip with its own USB, I2C and pins can show.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { StuckBus } from './bench/stuck-bus.mjs';
import { Bench, GOOD_RUN } from './testing/bench.mjs';
import { ABORT, HELLO, MEASURE, MEASURE_OPEN } from './testing/frames.mjs';

const OPEN = 0, PLUG = 1;
const ABSENT = 0, BUS_STUCK = 2;
const SENSE = 0, DRIVE = 1, LIVE = 2;
const CONVERTER_ADDRESS = [0x48, 0x49, 0x4a];

/** Stopped { phase: plug, reason: fault { which, converter } }. */
const stoppedBy = (which, converter) => Buffer.from([6, PLUG, 1, which, converter]);

/** Stopped { phase: plug, reason: the host took no bytes for too long }. */
const HOST_SILENT = Buffer.from([6, PLUG, 2]);

const OPEN_PATTERNS = 86, RISES = 12, PLUG_PATTERNS = 50;

/** Done { phase, patterns }: both numbers fit in a byte. */
const done = (phase, patterns) => Buffer.from([5, phase, patterns]);

test('it answers hello and measures, in packets that need no empty one after them', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(HELLO);
  assert.deepEqual([...bench.until('hello').body.subarray(0, 3)], [0, 1, 42]);
  bench.jig.host.send(MEASURE);
  assert.deepEqual(bench.until('done').body, done(PLUG, PLUG_PATTERNS));
  assert.equal(bench.count('pattern'), PLUG_PATTERNS);
  assert.ok(Math.max(...bench.packets) < 64);
  assert.ok(bench.released);
});

test('an open phase and the plug phase after it are whole', async () => {
  const bench = await Bench.start({ scene: GOOD_RUN });
  bench.jig.host.send(MEASURE_OPEN);
  assert.deepEqual(bench.until('done').body, done(OPEN, OPEN_PATTERNS));
  assert.equal(bench.count('pattern') + bench.count('rise'), OPEN_PATTERNS);
  assert.equal(bench.count('rise'), RISES);
  assert.ok(bench.released);
  bench.jig.host.send(MEASURE);
  assert.deepEqual(bench.until('done').body, done(PLUG, PLUG_PATTERNS));
  assert.ok(bench.released);
});

test('the same run twice takes the same simulated time to the nanosecond', async () => {
  const ends = [];
  for (let i = 0; i < 2; i++) {
    const bench = await Bench.start();
    bench.jig.host.send(MEASURE);
    bench.until('done');
    ends.push(bench.jig.nanos);
  }
  assert.equal(ends[0], ends[1]);
});

/** A target may hold SCL for a while before the STOP: the driver then returns before it. */
const SLOW_STOP_BITS = 5;

for (const [converter, stopBits] of [[SENSE, 1], [DRIVE, 1], [LIVE, 1], [SENSE, SLOW_STOP_BITS]]) {
  test(`an absent converter ${converter} is told as itself, every time (STOP of ${stopBits} bits)`, async () => {
    const address = CONVERTER_ADDRESS[converter];
    const change = (world) => ({
      ...world,
      i2c_start: (asked, ...rest) => (asked === address ? 0 : world.i2c_start(asked, ...rest)),
    });
    const bench = await Bench.start({ change, trouble: () => ({ stopBits }) });
    for (let i = 0; i < 3; i++) {
      bench.jig.host.send(MEASURE);
      assert.deepEqual(bench.until('stopped').body, stoppedBy(ABSENT, converter));
      assert.ok(bench.released);
    }
  });
}

test('a stuck bus is told, clocked free, and measured over again', async () => {
  let bus;
  const bench = await Bench.start({ trouble: (chip) => (bus = new StuckBus(chip, 0.1e9)) });
  bench.jig.host.send(MEASURE);
  assert.deepEqual(bench.until('stopped').body, stoppedBy(BUS_STUCK, LIVE));
  assert.equal(bus.clocks, 9);
  assert.ok(bench.released);
  bench.jig.host.send(MEASURE);
  bench.until('done');
});

test('an abort lets go of everything', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.run(0.3);
  bench.jig.host.send(ABORT);
  bench.until('stopped', 0.01);
  assert.ok(bench.released);
});

test('a host that stops reading leaves nothing driven, and is told when it reads again', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.reads = false;
  bench.run(0.2);
  const { chip } = bench.jig;
  for (let i = 0; i < 100; i++) {
    bench.run(0.01);
    assert.ok(PINS.drives.every((pin) => chip.gpio[pin].value === GPIOPinState.Input), `after ${i} looks`);
  }
  bench.reads = true;
  bench.resume();
  assert.deepEqual(bench.until('stopped').body, HOST_SILENT);
});

test('an idle jig sleeps', async () => {
  const bench = await Bench.start();
  bench.until('heartbeat');
  const before = bench.jig.chip.core.cycles;
  bench.run(5);
  assert.ok(bench.jig.chip.core.cycles - before < 250_000, 'of 625 000 000 cycles');
});
