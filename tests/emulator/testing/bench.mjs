// A jig in front of a scene, run as fast as it goes: time passes only while a test runs it.
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { openWorld } from '../bench/world.mjs';
import { EmulatedJig } from '../emulated-jig.mjs';
import { readImage } from '../image.mjs';
import { PowerCut } from '../nor-flash.mjs';
import { Events } from './frames.mjs';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** The end plug is in from the start: what the tests of a plug phase alone need. */
export const PLUGGED_RUN = own('plugged-run');
export const BECOMES_LIVE = own('becomes-live');
export const LEAD_IN_FIXTURE = own('lead-in-fixture');
/** The end plug goes in when the open phase is over. */
export const GOOD_RUN = builtInScene('good-run');

export class Bench {
  events = [];
  packets = [];
  /** Whether the host takes what the jig sends. */
  reads = true;
  #frames = new Events();

  static async start({ scene = PLUGGED_RUN, seed = 1, change = (world) => world, trouble, mayRestart, flash } = {}) {
    const world = await openWorld(built('world.wasm'), scene, seed);
    const bench = new Bench();
    bench.jig = new EmulatedJig({
      image: readImage(built('runproof-rp2040.uf2')),
      world: change({ ...world }),
      received: (bytes, next) => bench.#receive(bytes, next),
      trouble,
      mayRestart,
      flash,
    });
    return bench;
  }

  #receive(bytes, next) {
    this.packets.push(bytes.length);
    this.events.push(...this.#frames.take(bytes));
    if (this.reads) next();
    else this.resume = next;
  }

  /** Runs until an event of this kind has come, and returns it; at most so many simulated seconds. */
  until(kind, seconds = 5) {
    const from = this.events.length;
    const found = () => this.events.slice(from).find((event) => event.kind === kind);
    this.#run(seconds, found);
    if (!found()) throw new Error(`no ${kind} in ${seconds} s, only: ${this.kinds(from)}`);
    return found();
  }

  run(seconds) {
    this.#run(seconds, () => false);
  }

  /** Runs until the power goes away (`jig.flash.cutPower`); returns the flash, for `start({ flash })` to power up again. */
  untilPowerCut(seconds = 5) {
    try {
      this.run(seconds);
    } catch (error) {
      if (error instanceof PowerCut) return this.jig.flash.unplugged();
      throw error;
    }
    throw new Error(`no power cut in ${seconds} s: ${this.jig.flash.steps} steps of the flash`);
  }

  #run(seconds, enough) {
    const end = this.jig.nanos + seconds * 1e9;
    while (this.jig.nanos < end && !enough()) {
      const wait = this.jig.run(end);
      if (wait > 0 && !enough()) this.jig.pass(Math.min(wait, end - this.jig.nanos));
    }
  }

  get released() {
    return this.jig.released;
  }

  kinds(from = 0) {
    return this.events.slice(from).map((event) => event.kind).join(' ');
  }

  count(kind) {
    return this.events.filter((event) => event.kind === kind).length;
  }
}

export function builtInScene(name) {
  return join(ROOT, `firmware/src/boards/simulated/scenes/${name}.toml`);
}

function own(name) {
  return fileURLToPath(new URL(`scenes/${name}.toml`, import.meta.url));
}

export function built(name) {
  const path = resolve(ROOT, process.env.CARGO_TARGET_DIR ?? 'target', 'image', name);
  if (!existsSync(path)) throw new Error(`${path} is missing: run tests/image first`);
  return path;
}
