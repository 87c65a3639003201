// The flash chip behind the microcontroller: what erasing and programming do to it, how long they take, and a power cut in between.
import { FLASH, FLASH_BYTES } from './memory.mjs';

/** All that the chip can address of it. */
const SPACE_BYTES = 16 * 1024 * 1024;
/** Typical for a serial NOR flash of 16 Mbit, by its data sheet: sector erase, page program. */
const ERASE_NANOS = 45e6, PROGRAM_NANOS = 0.7e6;
const SECTOR_BYTES = 4096, PAGE_BYTES = 256;
const ID_BYTES = 8;

/** The power went away between two steps of the flash, or in the middle of one. */
export class PowerCut extends Error {}

export class NorFlash {
  /** Erased sectors and programmed pages since power-up. */
  steps = 0;
  #space = new Uint8Array(SPACE_BYTES).fill(0xff);
  #cut = { after: Infinity };
  #eraseNanos;

  /** As it left its factory, or with what `memory` says; `id` has eight bytes. A slow one takes longer to erase. */
  constructor(id, memory = [], eraseNanos = ERASE_NANOS) {
    this.#eraseNanos = eraseNanos;
    this.id = Uint8Array.from(id);
    this.memory.set(memory);
    if (this.id.length !== ID_BYTES) throw new Error(`a flash chip's id has ${ID_BYTES} bytes, not ${this.id.length}`);
  }

  get memory() {
    return this.#space.subarray(0, FLASH_BYTES);
  }

  /** Puts pages, {address, bytes}, where a boot ROM would. */
  load(pages) {
    for (const { address, bytes } of pages) this.memory.set(bytes, address - FLASH);
  }

  /** The chip reads this flash from now on: what it was made with is wiped by its own reset. */
  attach(chip) {
    const { buffer } = this.#space;
    Object.assign(chip, { flash: this.#space, flash16: new Uint16Array(buffer), flashView: new DataView(buffer) });
  }

  /** The same chip with the same content, for another power-up. */
  unplugged() {
    return new NorFlash(this.id, this.memory, this.#eraseNanos);
  }

  /** After so many more steps the power goes away: before the next, or in the middle of it. */
  cutPower(after, { halfway = false } = {}) {
    this.#cut = { after: this.steps + after, halfway };
  }

  /** Whole sectors become 0xff. `passed(nanos)` is called for each. */
  erase(offset, count, passed) {
    for (const at of this.#parts('erase', offset, count, SECTOR_BYTES)) {
      this.#step(SECTOR_BYTES, (bytes) => this.memory.fill(0xff, at, at + bytes));
      passed(this.#eraseNanos);
    }
  }

  /** Programming only clears bits, a page at a time. */
  program(offset, data, passed) {
    for (const at of this.#parts('program', offset, data.length, PAGE_BYTES)) {
      this.#step(PAGE_BYTES, (bytes) => {
        for (let i = 0; i < bytes; i++) this.memory[at + i] &= data[at - offset + i];
      });
      passed(PROGRAM_NANOS);
    }
  }

  #parts(what, offset, count, unit) {
    if (offset % unit || count % unit || offset + count > FLASH_BYTES) {
      throw new RangeError(`the image asks to ${what} ${count} bytes at 0x${offset.toString(16)}: not whole units of ${unit}`);
    }
    return Array.from({ length: count / unit }, (_, i) => offset + i * unit);
  }

  #step(unit, change) {
    if (this.steps >= this.#cut.after) {
      if (this.#cut.halfway) change(unit / 2);
      throw new PowerCut(`the power went away after ${this.steps} steps of the flash`);
    }
    change(unit);
    this.steps++;
  }
}

/** An id of its own for each seed. */
export function idFromSeed(seed) {
  const id = Buffer.from('52500000' + '00000000', 'hex'); // "RP", then the seed
  id.writeUInt32BE(seed, 4);
  return id;
}
