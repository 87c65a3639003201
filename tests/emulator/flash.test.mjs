// The unmodified image and the flash chip behind it.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { readImage } from './image.mjs';
import { idFromSeed, NorFlash } from './nor-flash.mjs';
import { Bench, built } from './testing/bench.mjs';
import { IDENTIFY } from './testing/frames.mjs';

function flashed(id) {
  const flash = new NorFlash(id);
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
