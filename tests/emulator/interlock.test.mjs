// The unmodified image's interlock, by the edges of its pins: how long drives and coils stay on once a run is live.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PINS } from './bench/pins.mjs';
import { Bench, GOOD_RUN } from './testing/bench.mjs';
import { ABORT, MEASURE, MEASURE_OPEN, REARM } from './testing/frames.mjs';
import { random } from './testing/random.mjs';

/** `npm test --prefix tests/emulator` takes 200; LONG=1 in its environment a thousand. */
const INSTANTS = process.env.LONG ? 1000 : 200;
const SEED = 1;

/** From the relays' closing on, in seconds: their rest and all that is driven. */
const CLOSED_S = { plug: [0, 0.31], open: [0, 1.03] };
/** Beyond 5 V by more than the 1.65 V that the drives move a post by. */
const LIVE_V = [7.5, 34, 170];

/** A jig whose posts can be made live, and the times at which it let go. */
async function livened() {
  const state = { liveAt: Infinity, closedAt: Infinity, post: 0, volts: 0 };
  const change = (world) => ({
    ...world,
    set_relays(coil, at) {
      state.closedAt = coil ? at : Infinity;
      state.onClose?.(coil, at);
      world.set_relays(coil, at);
    },
    followed_volts(post, at) {
      return world.followed_volts(post, at) + (post === state.post && at >= state.liveAt ? state.volts : 0);
    },
  });
  const bench = await Bench.start({ scene: GOOD_RUN, change });
  const { chip } = bench.jig;
  const seen = () => {
    if (bench.jig.released) state.releasedAt ??= chip.clock.nanos;
    else state.releasedAt = undefined;
  };
  for (const pin of [...PINS.drives, ...PINS.pulls, PINS.relays, PINS.load, PINS.supplyLoad]) chip.gpio[pin].addListener(seen);
  return { bench, state };
}

test(`all is let go of within 1 ms of a hazard, at ${INSTANTS} instants`, async () => {
  const { bench, state } = await livened();
  const { between, oneOf } = random(SEED);
  const delays = [];
  let measured = 0;
  for (let i = 0; i < INSTANTS; i++) {
    const phase = i % 5 === 0 ? 'open' : 'plug';
    const after = between(...CLOSED_S[phase]) * 1e9;
    state.liveAt = Infinity;
    state.onClose = (coil, at) => {
      if (coil) Object.assign(state, { liveAt: at + after, post: oneOf([0, 1, 2, 3]), volts: oneOf([-1, 1]) * oneOf(LIVE_V) });
    };
    bench.events.length = 0;
    bench.jig.host.send(phase === 'open' ? MEASURE_OPEN : MEASURE);
    bench.until('started');
    bench.until('hazard');
    const delay = state.releasedAt - state.liveAt;
    assert.ok(delay > 0, `${delay} ns: let go before there was a hazard`);
    delays.push(delay / 1e3);
    measured++;
    state.onClose = undefined;
    state.liveAt = Infinity;
    bench.run(0.02);
    assert.ok(bench.jig.released, 'driven again');
    bench.jig.host.send(REARM);
    bench.until('armed', 0.05);
  }
  delays.sort((a, b) => a - b);
  const worst = delays.at(-1);
  console.log(`${measured} hazards: median ${delays[measured >> 1].toFixed(0)} µs, worst ${worst.toFixed(0)} µs`);
  assert.equal(measured, INSTANTS);
  assert.ok(worst < 1000, `${worst} µs`);
});
