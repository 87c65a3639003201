// What the unmodified image does when it cannot go on: everything off, a reason kept, a new start.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { readImage } from './image.mjs';
import { RAM } from './memory.mjs';
import { Bench, built } from './testing/bench.mjs';
import { crc32, HELLO, MEASURE } from './testing/frames.mjs';
import { ImageFault } from './workarounds/image-fault.mjs';

const HARD_FAULT = 3;
const WATCHDOG = 0x40058, PSM_WDSEL = 0x40010008;
const ALL_BUT_OSCILLATORS = 0x1fffc;
const MAGIC = 0x66656c6c, PANICKED = 1;
/** Behind the control block's name, two counts, and the channel's name, buffer and size. */
const RTT_WRITTEN_AT = 36;

/** Measures until a post is driven and the relays are closed. */
async function driving(options) {
  const bench = await Bench.start(options);
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  const { gpio } = bench.jig.chip;
  const driven = () => gpio[PINS.relays].value === GPIOPinState.High && PINS.drives.some((pin) => gpio[pin].value === GPIOPinState.High);
  for (let left = 10_000; !driven(); left--) {
    assert.ok(left > 0, 'nothing was driven');
    bench.run(0.0001);
  }
  return bench;
}

/** The image's own entry, a second time: what may be there once only is there already, and that panics. */
function provokePanic({ core }) {
  core.PC = readImage(built('runproof-rp2040.uf2')).symbol('main').address;
  core.waiting = false;
}

/** The emulator raises no hard fault by itself: the core's exception is entered by hand. */
function provokeHardFault({ core }) {
  core.waiting = false;
  core.exceptionEntry(HARD_FAULT);
}

/** Runs until the chip restarts; returns how it stood just before. */
function standsAtRestart(bench) {
  const { chip } = bench.jig;
  const stands = {};
  const watchdog = chip.peripherals[WATCHDOG];
  const restart = watchdog.onWatchdogTrigger;
  watchdog.onWatchdogTrigger = () => {
    const { released, jig: { keptReason: kept } } = bench;
    Object.assign(stands, { released, kept, resets: chip.readUint32(PSM_WDSEL) });
    restart();
  };
  bench.run(0.001);
  assert.equal(bench.jig.restarts, 1);
  return stands;
}

function startsAnew(bench) {
  assert.ok(bench.released);
  bench.jig.host.send(HELLO);
  bench.until('hello');
  bench.jig.host.send(MEASURE);
  bench.until('done');
  assert.equal(bench.jig.restarts, 1);
}

for (const [what, provoke, reason] of [
  ['a panic', provokePanic, ({ panicked }) => assert.match(panicked, /^\w+\.rs:[1-9]\d*$/)],
  ['a hard fault', provokeHardFault, ({ hardFault }) => assert.ok(hardFault >= 0x10000000 && hardFault < 0x20000000)],
]) {
  test(`${what} lets go of everything, keeps its reason, and the jig measures again`, async () => {
    const bench = await driving({ mayRestart: true });
    provoke(bench.jig.chip);
    const { released, kept, resets } = standsAtRestart(bench);
    assert.ok(released, 'before the chip restarts');
    assert.equal(resets, ALL_BUT_OSCILLATORS);
    startsAnew(bench);
    reason(kept);
    assert.equal(bench.jig.keptReason, undefined, 'it is told once');
  });
}

/** So many instructions into a critical section, half of which takes its lock. */
const INTO_THE_LOCK = [0, 1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20];

test('a fall in the middle of a critical section waits for no lock', async () => {
  for (const steps of INTO_THE_LOCK) {
    const bench = await driving({ mayRestart: true });
    const { core, clock } = bench.jig.chip;
    const step = () => (core.waiting ? clock.tick(1000) : clock.tick(core.executeInstruction() * 8));
    while (core.PM) step();
    while (!core.PM) step();
    for (let left = steps; left > 0; left--) step();
    provokeHardFault(bench.jig.chip);
    bench.run(0.001);
    assert.equal(bench.jig.restarts, 1, `${steps} instructions into it`);
  }
});

test('an image that panics where no test expects it has failed', async () => {
  const bench = await driving();
  provokePanic(bench.jig.chip);
  assert.throws(() => bench.run(0.001), (error) => error instanceof ImageFault && /panicked/.test(error.message));
});

/** Starts with a reason in RAM, its sum right or not; returns how many bytes the debug probe was told. */
async function toldAtStart(sum) {
  const bench = await Bench.start();
  const { chip, image } = bench.jig;
  const kept = Buffer.from(chip.sram.buffer, image.symbol('RUNPROOF_KEPT_REASON').address - RAM, 44);
  [MAGIC, PANICKED, 321, 6].forEach((word, i) => kept.writeUInt32LE(word, 4 * i));
  kept.write('pin.rs', 16);
  kept.writeUInt32LE(sum(crc32(kept.subarray(0, 40))) >>> 0, 40);
  bench.until('heartbeat');
  assert.equal(bench.jig.keptReason, undefined, 'it is told once');
  return chip.readUint32(image.symbol('_SEGGER_RTT').address + RTT_WRITTEN_AT);
}

test('what RAM holds by chance is no reason', async () => {
  const [right, wrong] = [await toldAtStart((sum) => sum), await toldAtStart((sum) => sum ^ 1)];
  assert.ok(right > wrong + 'pin.rs'.length, `${right} and ${wrong} bytes`);
});
