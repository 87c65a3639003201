// The unmodified image and the flash chip behind it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readImage } from './image.mjs';
import { idFromSeed, NorFlash } from './nor-flash.mjs';
import { Bench, built } from './testing/bench.mjs';
import { IDENTIFY, keep, MEASURE, number, PLUG, recall, ZERO } from './testing/frames.mjs';

function flashed(id, eraseNanos) {
  const flash = new NorFlash(id, [], eraseNanos);
  flash.load(readImage(built('runproof-rp2040.uf2')).pages);
  return flash;
}

test("the jig's serial is its flash chip's number", async () => {
  for (const id of [idFromSeed(7), [0xde, 0xad, 0xbe, 0xef, 0x01, 0x23, 0x45, 0x67]]) {
    const bench = await Bench.start({ flash: flashed(id) });
    bench.jig.host.send(IDENTIFY);
    const told = bench.until('identity').body.subarray(2, 18).toString('latin1');
    assert.equal(told, Buffer.from(id).toString('hex').toUpperCase());
  }
});

test('a jig that has nothing to keep leaves its flash as it is', async () => {
  const bench = await Bench.start();
  bench.until('heartbeat');
  assert.equal(bench.jig.flash.steps, 0);
});

const RING = [33_200, 47_500, 68_100, 150_000].flatMap(number);

/** A zero as protocol/src/records.rs has it; each number makes another. */
function zero(n) {
  const six = (value) => Array(6).fill(number(value)).flat();
  const series = Array(4).fill(number(346_000)).flat();
  return [...six(42_000_000 + n), ...six(123_456), 0, ...number(1_790_000_000 + n), ...series, 0, ...RING, ...number(1_000)];
}

/** What a chip that was just powered up with this flash says that it keeps. */
async function kept(flash, key = ZERO) {
  const bench = await Bench.start({ flash });
  bench.jig.host.send(recall(key));
  return [...bench.until('recalled').body.subarray(3)];
}

/** A flash with zeros 1 to n, one after the other. */
async function withZeros(n, flash = flashed(idFromSeed(7))) {
  const bench = await Bench.start({ flash });
  for (let i = 1; i <= n; i++) {
    bench.jig.host.send(keep(ZERO, zero(i)));
    bench.until('kept');
  }
  return flash;
}

test('what was kept is there at the next power-up', async () => {
  const flash = await withZeros(3);
  assert.deepEqual(await kept(flash.unplugged()), zero(3));
  assert.deepEqual(await kept(flash.unplugged(), PLUG), []);
});

// The first goes into a sector that is blank; the second overtakes the ring's beginning, which is erased for it.
for (const { before, steps } of [{ before: 2, steps: 4 }, { before: 16, steps: 5 }]) {
  test(`after ${before} zeros: the power goes at each step of storing the next, which takes ${steps}`, async () => {
    const flash = await withZeros(before);
    const old = zero(before), next = zero(before + 1);
    const whole = flash.unplugged();
    await withNext(whole);
    assert.equal(whole.steps, steps);
    for (let after = 0; after < steps; after++) {
      for (const halfway of [false, true]) {
        const bench = await Bench.start({ flash: flash.unplugged() });
        bench.jig.flash.cutPower(after, { halfway });
        bench.jig.host.send(keep(ZERO, next));
        const left = bench.untilPowerCut();
        assert.equal(bench.count('kept'), 0);
        const found = await kept(left.unplugged());
        assert.ok([old, next].some((one) => `${one}` === `${found}`), `cut after ${after}, halfway ${halfway}: ${found}`);
        await withNext(left);
        assert.deepEqual(await kept(left.unplugged()), next, 'cannot be stored after the cut');
      }
    }

    async function withNext(flash) {
      const bench = await Bench.start({ flash });
      bench.jig.host.send(keep(ZERO, next));
      bench.until('kept');
    }
  });
}

test('a slow flash does not wake the watchdog', async () => {
  const SLOWEST_NANOS = 400e6;
  const flash = await withZeros(17, flashed(idFromSeed(7), SLOWEST_NANOS));
  assert.deepEqual(await kept(flash.unplugged()), zero(17));
  const hangs = flashed(idFromSeed(7), 2.5 * SLOWEST_NANOS);
  await assert.rejects(withZeros(17, hangs), /the watchdog restarts the chip/);
});

test('nothing is written while the run is measured', async () => {
  const bench = await Bench.start();
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  const before = bench.events.length;
  bench.jig.host.send(keep(ZERO, zero(1)));
  bench.until('not kept');
  assert.equal(bench.jig.flash.steps, 0);
  bench.until('done');
  assert.ok(bench.events.slice(before).every(({ kind }) => kind !== 'kept'));
});

test('what is no record is not kept', async () => {
  const bench = await Bench.start();
  for (const bytes of [[1], zero(1).slice(0, -1), Array(128).fill(0xff)]) {
    bench.jig.host.send(keep(ZERO, bytes));
    bench.until('not kept');
  }
  assert.equal(bench.jig.flash.steps, 0);
});
