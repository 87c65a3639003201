// Drives, pulls, relays and loads: what the chip's pins do is told to the world when they change.
import { GPIOPinState } from 'rp2040js';
import { PINS } from './pins.mjs';

const LOW = 0, HIGH = 1, OFF = 2;

export function connectOutputs(chip, world) {
  const watch = (pin, tell) => chip.gpio[pin].addListener((state) => tell(level(state), chip.clock.nanos));
  PINS.drives.forEach((pin, post) => watch(pin, (drive, at) => world.set_drive(post, drive, at)));
  PINS.pulls.forEach((pin, line) => watch(pin, (pull, at) => world.set_pull(line, pull, at)));
  PINS.references.forEach((pin) => watch(pin, (drive, at) => world.set_references(drive, at)));
  watch(PINS.relays, (coil, at) => world.set_relays(Number(coil === HIGH), at));
  watch(PINS.load, (coil, at) => world.set_load(Number(coil === HIGH), at));
  watch(PINS.supplyLoad, (coil, at) => world.set_supply_load(Number(coil === HIGH), at));
  watch(PINS.ring, (coil, at) => world.set_ring(Number(coil === HIGH), at));
  // A driver's resistor to ground; without one the chip's own pull-up.
  chip.gpio[PINS.supplyLoad].setInputValue(!world.has_supply_load());
}

/** What the bench sees of a chip in reset: nothing is driven, and no coil. */
export function releaseOutputs(world, at) {
  PINS.drives.forEach((_, post) => world.set_drive(post, OFF, at));
  PINS.pulls.forEach((_, line) => world.set_pull(line, OFF, at));
  world.set_references(OFF, at);
  world.set_relays(0, at);
  world.set_load(0, at);
  world.set_supply_load(0, at);
  world.set_ring(0, at);
}

function level(state) {
  if (state === GPIOPinState.High) return HIGH;
  return state === GPIOPinState.Low ? LOW : OFF;
}
