// The emulated jig as a program: its USB serial port is on standard input and output.
import { setImmediate as breathe } from 'node:timers/promises';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { readArguments } from './arguments.mjs';
import { openWorld } from './bench/world.mjs';
import { EmulatedJig } from './emulated-jig.mjs';
import { readImage } from './image.mjs';
import { sleep } from './pace.mjs';
import { Serial } from './serial.mjs';

/** How long the jig may still answer, in simulated time, after its host has left. */
const LAST_WORDS_NANOS = 2e9;

const PRESS_NANOS = 0.1e9, CHECKED_NANOS = 2.5e9;
/** Of the flash, what is not the image's (firmware/memory.x), in a file. */
class Store {
  static BYTES = 16 * 1024;
  #steps = 0;

  constructor(path, flash) {
    this.path = path;
    this.flash = flash;
    this.bytes = flash.memory.subarray(-Store.BYTES);
    if (existsSync(path)) this.bytes.set(readFileSync(path));
  }

  save() {
    if (this.flash.steps === this.#steps) return;
    this.#steps = this.flash.steps;
    writeFileSync(this.path, this.bytes);
  }
}

async function main() {
  const options = readArguments(process.argv.slice(2));
  const image = readImage(options.image);
  let serial;
  const world = await openWorld(options.world, options.scene, options.seed);
  const jig = new EmulatedJig({ image, world, seed: options.seed, received: (bytes, next) => (serial ? serial.send(bytes, next) : next()) });
  const store = options.store && new Store(options.store, jig.flash);
  press(jig, options.press);
  serial = new Serial((bytes) => jig.host.send(bytes));
  for (let leaveAt = Infinity; ; ) {
    const wait = jig.run();
    store?.save();
    if (serial.gone) {
      leaveAt = Math.min(leaveAt, jig.nanos + LAST_WORDS_NANOS);
      if ((wait > 0 && jig.host.idle) || wait === Infinity || jig.nanos > leaveAt) return;
    }
    if (wait > 0) await sleep(jig, wait, () => serial.activity());
    else await breathe();
  }
}

/** Each press is held for a moment, and all is done that follows from it. */
function press(jig, times) {
  const pass = (nanos) => {
    for (const end = jig.nanos + nanos; jig.nanos < end; ) {
      const wait = jig.run(end);
      if (wait > 0) jig.pass(Math.min(wait, end - jig.nanos));
    }
  };
  for (let i = 0; i < times; i++) {
    pass(PRESS_NANOS);
    jig.desk.press(true);
    pass(PRESS_NANOS);
    jig.desk.press(false);
    pass(CHECKED_NANOS);
  }
}

main().then(
  () => process.exit(0),
  (error) => {
    process.stderr.write(`emulated jig: ${error.message}\n`);
    process.exit(1);
  },
);
