// The unmodified image when something goes wrong around it: what it lets go of, how soon, and what it tells.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { Bench, builtInScene, GOOD_RUN } from './testing/bench.mjs';
import { ABORT, HELLO, MEASURE, MEASURE_OPEN, MEASURE_SUPPLY_LOAD } from './testing/frames.mjs';
import { random } from './testing/random.mjs';

const OPEN = 0, PLUG = 1;
const RESTARTED = 12, HUNG = 2;
const HOST_SILENT = [6, PLUG, 2];
const WRONG = 4;
const ADC_INTERRUPT = 1 << 22;
/** Thumb: a branch to itself. */
const BRANCH_TO_ITSELF = Uint8Array.of(0xfe, 0xe7);
const SPARE_RAM = 0x3f000, RAM = 0x20000000;

/** When the jig is next released, in ms from now; at most so many seconds. */
function released(bench, seconds) {
  const from = bench.jig.nanos;
  while (!bench.released) {
    bench.run(0.00005);
    assert.ok(bench.jig.nanos < from + seconds * 1e9, 'not let go of');
  }
  return (bench.jig.nanos - from) / 1e6;
}

test('an abort lets go of all within 5 ms, at any instant', async () => {
  const bench = await Bench.start({ scene: GOOD_RUN });
  const { between } = random(7);
  const delays = [];
  for (let i = 0; i < 40; i++) {
    bench.jig.host.send(i % 4 ? MEASURE : MEASURE_OPEN);
    bench.until('started', 0.1);
    bench.run(between(0.21, i % 4 ? 0.6 : 1.3));
    bench.jig.host.send(ABORT);
    delays.push(released(bench, 0.1));
    bench.until('stopped', 0.01);
  }
  assert.ok(Math.max(...delays) <= 5, `${Math.max(...delays)} ms`);
});

test('a host that is gone leaves nothing driven after half a second', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.reads = false;
  bench.run(0.25);
  assert.ok(released(bench, 1) <= 500 + 250);
  bench.run(1);
  assert.ok(bench.released);
  bench.reads = true;
  bench.resume();
  assert.deepEqual([...bench.until('stopped').body], HOST_SILENT);
});

test('a host that is slow by 2 s is told so, and gets a whole phase at the next try', async () => {
  const bench = await Bench.start({ scene: GOOD_RUN });
  bench.jig.host.send(MEASURE_OPEN);
  bench.until('pattern');
  bench.reads = false;
  bench.run(2);
  bench.reads = true;
  bench.resume();
  assert.equal(bench.until('stopped').body[1], OPEN);
  bench.jig.host.send(MEASURE_OPEN);
  bench.until('done');
});

test('a jig that hangs while it measures starts anew within 100 ms, and says so', async () => {
  const bench = await Bench.start({ mayRestart: true });
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.run(0.4);
  assert.ok(!bench.released);
  const { chip } = bench.jig;
  chip.sram.set(BRANCH_TO_ITSELF, SPARE_RAM);
  chip.core.PC = RAM + SPARE_RAM;
  assert.ok(released(bench, 0.2) <= 100);
  assert.equal(bench.jig.restarts, 1);
  bench.run(0.1);
  bench.jig.host.send(HELLO);
  assert.deepEqual([...bench.until('restarted', 1).body], [RESTARTED, HUNG]);
  bench.jig.host.send(MEASURE);
  bench.until('done');
});

test('a watch that stands still while it should look starts the jig anew', async () => {
  const bench = await Bench.start({ mayRestart: true });
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.run(0.4);
  assert.ok(!bench.released);
  bench.jig.chip.core.enabledInterrupts &= ~ADC_INTERRUPT;
  bench.jig.chip.core.interruptsUpdated = true;
  assert.ok(released(bench, 0.3) <= 140, 'a feeding may just have been');
  assert.equal(bench.jig.restarts, 1);
});

test('a supply load is taken off by an abort within 5 ms, and within 100 ms of a hang', async () => {
  const bench = await Bench.start({ scene: builtInScene('live/live-sags'), mayRestart: true });
  const isOn = () => bench.jig.chip.gpio[PINS.supplyLoad].value === GPIOPinState.High;
  const putOn = () => {
    bench.jig.host.send(MEASURE_SUPPLY_LOAD);
    bench.until('pattern', 0.2);
    bench.run(0.03);
    assert.ok(isOn() && !bench.released, 'the load is on');
  };
  putOn();
  bench.jig.host.send(ABORT);
  assert.ok(released(bench, 0.1) <= 5);
  assert.ok(!isOn());
  bench.until('stopped', 0.01);
  putOn();
  const { chip } = bench.jig;
  chip.sram.set(BRANCH_TO_ITSELF, SPARE_RAM);
  chip.core.PC = RAM + SPARE_RAM;
  assert.ok(released(bench, 0.2) <= 100);
  assert.ok(!isOn());
});

for (const [converter, address] of [0x48, 0x49, 0x4a].entries()) {
  test(`another device in place of converter ${converter} is told as such`, async () => {
    let at;
    const change = (world) => ({
      ...world,
      i2c_start: (asked, ...rest) => world.i2c_start((at = asked), ...rest),
      i2c_read: (...rest) => (at === address ? 0xff : world.i2c_read(...rest)),
    });
    const bench = await Bench.start({ change });
    bench.jig.host.send(MEASURE);
    assert.deepEqual([...bench.until('stopped').body], [6, PLUG, 1, WRONG, converter]);
    assert.ok(bench.released);
  });
}

test('a converter that is reset in the middle of a check is told as such', async () => {
  const AT_RESET = [0x85, 0x83];
  let reads = 0, at, byte = 0;
  const change = (world) => ({
    ...world,
    i2c_start: (asked, ...rest) => ((byte = 0), world.i2c_start((at = asked), ...rest)),
    i2c_read: (...rest) => (at === 0x48 && ++reads > 100 ? AT_RESET[byte++ % 2] : world.i2c_read(...rest)),
  });
  const bench = await Bench.start({ change });
  bench.jig.host.send(MEASURE);
  assert.deepEqual([...bench.until('stopped').body], [6, PLUG, 1, WRONG, 0]);
  assert.ok(bench.released);
});

test('ten thousand orders and ten thousand bytes of nonsense are survived', async () => {
  const bench = await Bench.start();
  const { between } = random(3);
  const nonsense = Uint8Array.from({ length: 10_000 }, () => Math.floor(between(0, 256)));
  bench.jig.host.send(nonsense);
  for (let i = 0; i < 10_000; i++) bench.jig.host.send(HELLO);
  bench.run(3);
  bench.events.length = 0;
  bench.jig.host.send(HELLO);
  bench.until('hello', 10);
  bench.jig.host.send(MEASURE);
  bench.until('done', 10);
});

test('power that goes in the middle of a check leaves nothing driven, and a jig that works', async () => {
  const bench = await Bench.start({ scene: builtInScene('good-run') });
  bench.jig.host.send(MEASURE_OPEN);
  bench.until('pattern');
  bench.run(0.7);
  assert.ok(!bench.released);
  const again = await Bench.start({ flash: bench.jig.flash.unplugged() });
  const { gpio } = again.jig.chip;
  const outputs = () => [...PINS.drives, ...PINS.pulls, PINS.relays, PINS.load, PINS.supplyLoad].filter((pin) => gpio[pin].outputEnable);
  assert.deepEqual(outputs(), []);
  again.run(0.01);
  assert.ok(again.released);
  again.jig.host.send(HELLO);
  again.until('hello', 1);
  again.jig.host.send(MEASURE);
  again.until('done');
});
