// The unmodified image switches the ring of a fixture for made-up leads: on its pin, in the phases that want it, and off again.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { GPIOPinState } from 'rp2040js';
import { PINS } from './bench/pins.mjs';
import { Bench, LEAD_IN_FIXTURE } from './testing/bench.mjs';
import { ABORT, MEASURE, MEASURE_FIXTURE, MEASURE_OPEN } from './testing/frames.mjs';

/** Between two coils' changes nothing moves for so long. */
const RESTS_MS = 30;

async function inFixture() {
  const bench = await Bench.start({ scene: LEAD_IN_FIXTURE });
  const { chip } = bench.jig;
  const closed = [];
  chip.gpio[PINS.relays].addListener((state) => {
    if (state === GPIOPinState.High) closed.push({ ringOn: isOn(), sinceMs: (chip.clock.nanos - ringAt) / 1e6 });
  });
  let ringAt = 0;
  chip.gpio[PINS.ring].addListener(() => { ringAt = chip.clock.nanos; });
  const isOn = () => chip.gpio[PINS.ring].value === GPIOPinState.High;
  return { bench, closed, isOn };
}

test('the ring is in for a look and a plug phase, rests long before the posts are joined, and is out for an open phase', async () => {
  const { bench, closed, isOn } = await inFixture();
  for (const [order, wanted, patterns] of [[MEASURE_FIXTURE, true, 14], [MEASURE, true, 50], [MEASURE_OPEN, false, 86]]) {
    closed.length = 0;
    bench.events.length = 0;
    bench.jig.host.send(order);
    const done = bench.until('done');
    assert.equal(done.body[2], patterns);
    assert.equal(bench.count('pattern') + bench.count('rise'), patterns);
    assert.deepEqual(closed.map((one) => one.ringOn), [wanted]);
    assert.ok(closed.every((one) => one.sinceMs > RESTS_MS), `${closed.map((one) => one.sinceMs)} ms`);
    assert.ok(!isOn() && bench.released);
  }
});

test('an abort takes the ring out within 5 ms', async () => {
  const { bench, isOn } = await inFixture();
  bench.jig.host.send(MEASURE);
  bench.until('pattern', 0.2);
  assert.ok(isOn());
  bench.jig.host.send(ABORT);
  bench.run(0.005);
  assert.ok(!isOn());
});
