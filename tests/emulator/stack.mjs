// How deep the stack gets: free RAM is painted before the image starts, and looked at after everything that it can do.
import { RAM } from './memory.mjs';
import { BECOMES_LIVE, Bench, GOOD_RUN } from './testing/bench.mjs';
import { ABORT, HELLO, IDENTIFY, MEASURE, MEASURE_OPEN } from './testing/frames.mjs';

const PAINT = 0xa5;

/** The deepest of all that a jig goes through, in bytes below the stack's start. */
export async function worstStackBytes() {
  const depths = [];
  for (const [options, go] of [[{ scene: GOOD_RUN }, wholeCheck], [{ scene: BECOMES_LIVE }, hazard], [{}, aborted]]) {
    depths.push(await depth(options, go));
  }
  return Math.max(...depths);
}

function wholeCheck(bench) {
  bench.jig.host.send(HELLO);
  bench.jig.host.send(IDENTIFY);
  bench.until('identity');
  bench.jig.host.send(MEASURE_OPEN);
  bench.until('done');
  bench.jig.host.send(MEASURE);
  bench.until('done');
}

function hazard(bench) {
  bench.jig.host.send(MEASURE);
  bench.until('hazard');
}

function aborted(bench) {
  bench.jig.host.send(MEASURE);
  bench.until('pattern');
  bench.run(0.3);
  bench.jig.host.send(ABORT);
  bench.until('stopped');
}

async function depth(options, go) {
  const bench = await Bench.start(options);
  const { chip, image } = bench.jig;
  const [top, bottom] = ['_stack_start', '_stack_end'].map((name) => image.symbol(name).address - RAM);
  chip.sram.fill(PAINT, bottom, top);
  go(bench);
  const free = chip.sram.subarray(bottom, top).findIndex((byte) => byte !== PAINT);
  if (free === 0) throw new Error('the stack has met what lies below it');
  return free < 0 ? 0 : top - bottom - free;
}
