// What the drive lines read while the chip lets them go: high as soon as the world has lifted them.
import { GPIOPinState } from 'rp2040js';
import { PINS } from './pins.mjs';

/** After connectOutputs: the world must know how the lines stand. */
export function connectInputs(chip, world) {
  const pins = PINS.drives.map((pin) => chip.gpio[pin]);
  const floats = pins.map(() => false);
  const rise = pins.map((pin) => chip.clock.createAlarm(() => pin.setInputValue(true)));
  const follow = (post) => {
    rise[post].cancel();
    pins[post].setInputValue(false);
    const at = floats[post] ? world.rises_at(post, chip.clock.nanos) : -1;
    if (at >= 0) rise[post].schedule(Math.max(at - chip.clock.nanos, 0));
  };
  pins.forEach((pin, post) =>
    pin.addListener((state) => {
      floats[post] = state === GPIOPinState.Input;
      follow(post);
    }),
  );
  for (const pull of PINS.pulls) chip.gpio[pull].addListener(() => pins.forEach((_, post) => follow(post)));
}
