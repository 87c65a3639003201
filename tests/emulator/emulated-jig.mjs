// The unmodified image on its chip, wired to a simulated bench and to a USB host.
import { GPIOPinState } from 'rp2040js';
import { connectBus } from './bench/bus.mjs';
import { Desk } from './bench/desk.mjs';
import { connectEdges } from './bench/edges.mjs';
import { connectFollowers } from './bench/followers.mjs';
import { connectInputs } from './bench/inputs.mjs';
import { connectOutputs, releaseOutputs } from './bench/outputs.mjs';
import { PINS } from './bench/pins.mjs';
import { restartChip, startChip } from './chip.mjs';
import { keptReason } from './kept-reason.mjs';
import { idFromSeed, NorFlash } from './nor-flash.mjs';
import { runSlice } from './run.mjs';
import { UsbHost } from './usb/host.mjs';
import { ChipRestart } from './workarounds/chip-restart.mjs';
import { ImageFault } from './workarounds/image-fault.mjs';

export class EmulatedJig {
  #world;
  #received;
  #trouble;
  #mayRestart;
  /** How often it has restarted itself. */
  restarts = 0;

  /**
   * `received(bytes, next)`: see UsbHost. `trouble(chip)`: what is wrong with the bus, see connectBus.
   * `flash`: a NorFlash that another chip has left; else a new one, its id from the seed.
   * Unless it may restart, an image that does so has failed: what it kept as its reason is the error.
   */
  constructor({ image, world, received, trouble, seed = 1, flash = flashed(image, seed), mayRestart = false }) {
    this.flash = flash;
    this.image = image;
    this.#world = world;
    this.#received = received;
    this.#trouble = trouble;
    this.#mayRestart = mayRestart;
    this.#connect(startChip(flash));
  }

  #connect(chip) {
    const world = this.#world;
    this.chip = chip;
    this.host = new UsbHost(chip, this.#received);
    this.desk = new Desk(chip);
    connectOutputs(chip, world);
    connectInputs(chip, world);
    connectEdges(chip, world);
    connectFollowers(chip, world);
    connectBus(chip, world, this.#trouble?.(chip));
  }

  get nanos() {
    return this.chip.clock.nanos;
  }

  /** Whether nothing is driven, and all coils are off. */
  get released() {
    const { gpio } = this.chip;
    const all = (pins, state) => pins.every((pin) => gpio[pin].value === state);
    const undriven = all([...PINS.drives, ...PINS.pulls], GPIOPinState.Input) && all([PINS.relays, PINS.load], GPIOPinState.Low);
    return undriven && gpio[PINS.supplyLoad].value !== GPIOPinState.High;
  }

  /** Why it restarted, or is about to. */
  get keptReason() {
    return keptReason(this.chip, this.image);
  }

  /** Runs a slice; returns how long the chip would sleep, in ns, or 0 if it has more to do; at most until its clock shows `until`. */
  run(until) {
    return this.#guarded(() => runSlice(this.chip, () => this.released, until)) ?? 0;
  }

  /** Lets time pass while the chip sleeps. */
  pass(nanos) {
    this.#guarded(() => this.chip.clock.tick(nanos));
  }

  #guarded(step) {
    try {
      return step();
    } catch (thrown) {
      const restarts = thrown instanceof ChipRestart;
      if (restarts && this.#mayRestart) return this.#restart();
      const error = restarts ? new ImageFault(`${thrown.message}; the image's reason: ${JSON.stringify(this.keptReason)}`) : thrown;
      const { PC, LR } = this.chip.core;
      const seconds = (this.nanos / 1e9).toFixed(6);
      error.message += `\n  at ${this.image.describe(PC)}, called from ${this.image.describe(LR & ~1)}`;
      error.message += `, ${seconds} s after power-up`;
      throw error;
    }
  }

  #restart() {
    this.restarts++;
    releaseOutputs(this.#world, this.nanos);
    this.#connect(restartChip(this.chip, this.flash));
  }
}

function flashed({ pages }, seed) {
  const flash = new NorFlash(idFromSeed(seed));
  flash.load(pages);
  return flash;
}
