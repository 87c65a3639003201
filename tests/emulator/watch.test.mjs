// The unmodified image's watch: a run that becomes live while the relays are closed.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BECOMES_LIVE, Bench } from './testing/bench.mjs';
import { MEASURE, REARM, signed } from './testing/frames.mjs';

const HAZARD = 7, WHILE_CLOSED = 1;
const FULL_RANGE_V = 339;
/** `from_s` of the scene that becomes live. */
const LIVE_FROM_S = 0.45;
const ADC_INTERRUPT = 1 << 22;

/** Adds `extraV(post, seconds)`, counted from the relays' closing, to what the followers show; keeps when the relays opened. */
function watched(extraV) {
  const seen = { looks: 0 };
  let closedAt;
  seen.change = (world) => ({
    ...world,
    set_relays(coil, at) {
      if (coil) closedAt = at;
      else Object.assign(seen, { openedAt: at, openedAfter: (at - closedAt) / 1e9 });
      world.set_relays(coil, at);
    },
    followed_volts(post, at) {
      seen.looks++;
      return world.followed_volts(post, at) + extraV(post, (at - closedAt) / 1e9);
    },
  });
  return seen;
}

/** The contacts rest and are watched, and nothing is driven yet. */
const settling = (seconds) => seconds > 0.0215 && seconds < 0.0245;

async function measuring(extraV, options = {}) {
  const seen = watched(extraV);
  const bench = await Bench.start({ change: seen.change, ...options });
  bench.jig.host.send(MEASURE);
  return { bench, seen };
}

function hazardV(bench) {
  const { body } = bench.until('hazard');
  assert.deepEqual([...body.subarray(0, 2)], [HAZARD, WHILE_CLOSED]);
  assert.ok(bench.released);
  return signed(body.subarray(2)) / 1e6;
}

test('a run that becomes live is let go of within 2 ms, until it is re-armed', async () => {
  const { bench, seen } = await measuring(() => 0, { scene: BECOMES_LIVE });
  assert.ok(hazardV(bench) > 5);
  const sinceLive = seen.openedAt / 1e9 - LIVE_FROM_S;
  assert.ok(sinceLive > 0 && sinceLive < 0.002, `${sinceLive} s`);

  bench.jig.host.send(MEASURE);
  bench.until('refused', 0.01);
  bench.run(5);
  bench.jig.host.send(MEASURE);
  bench.until('refused', 0.01);
  bench.jig.host.send(REARM);
  bench.until('armed', 0.01);
  bench.jig.host.send(MEASURE);
  bench.until('started', 0.01);
});

for (const [post, volts] of [[0, 5.3], [1, -5.3], [2, 5.3], [3, -5.3]]) {
  test(`post ${post + 1} at ${volts} V is a hazard within 1 ms`, async () => {
    const { bench, seen } = await measuring((at, seconds) => (at === post && settling(seconds) ? volts : 0));
    const foundV = hazardV(bench);
    assert.ok(foundV > 5 && foundV < 5.6, `${foundV} V`);
    assert.ok(seen.openedAfter < 0.0225, `opened after ${seen.openedAfter} s`);
  });
}

test('with a follower that stands still the jig stops before any current flows', async () => {
  const STOPPED = 6, PLUG = 1, FAULT = 1, WATCH_BLIND = 3, POST_3 = 2;
  const change = (world) => ({
    ...world,
    followed_volts: (post, at) => (post === POST_3 ? 0 : world.followed_volts(post, at)),
  });
  const bench = await Bench.start({ change });
  bench.jig.host.send(MEASURE);
  const { body } = bench.until('stopped');
  assert.deepEqual([...body], [STOPPED, PLUG, FAULT, WATCH_BLIND, POST_3]);
  assert.ok(bench.released);
});

test('all posts at 4.7 V are none', async () => {
  const { bench } = await measuring((_, seconds) => (settling(seconds) ? 4.7 : 0));
  bench.until('done');
});

test('a single look is none', async () => {
  let left = 4;
  const { bench } = await measuring((_, seconds) => (settling(seconds) && left-- > 0 ? FULL_RANGE_V : 0));
  bench.until('done');
  assert.ok(left < 0);
});

/** What the ADC, its reference and the mid voltage are off by. */
const OFF_V = [4, -4, 4, -4];

test('what a post is off by before the relays close is taken away', async () => {
  const { bench } = await measuring((post) => OFF_V[post]);
  bench.until('done');
});

test('a post that is live before the relays close is not zeroed away: they stay open', async () => {
  const { bench, seen } = await measuring((post) => (post === 2 ? 24 : 0));
  assert.ok(hazardV(bench) > 15);
  assert.ok(seen.openedAfter === undefined || seen.openedAfter < 0.001, `opened after ${seen.openedAfter} s`);
});

for (const lateMicros of [260, 330, 390, 450]) {
  test(`after an interrupt that came ${lateMicros} µs late, each look is its own post's`, async () => {
    let bench, late = false;
    const end = () => {
      bench.jig.chip.core.enabledInterrupts |= ADC_INTERRUPT;
      bench.jig.chip.core.interruptsUpdated = true;
    };
    ({ bench } = await measuring((post, seconds) => {
      if (settling(seconds) && !late) {
        late = true;
        bench.jig.chip.core.enabledInterrupts &= ~ADC_INTERRUPT;
        bench.jig.chip.clock.createAlarm(end).schedule(lateMicros * 1000);
      }
      return OFF_V[post];
    }));
    bench.until('done');
    assert.ok(late);
  });
}

test('nothing is looked at while the relays are open', async () => {
  const { bench, seen } = await measuring(() => 0);
  bench.until('done');
  const looks = seen.looks;
  bench.run(2);
  assert.equal(seen.looks, looks);
});
