// The edge catcher's comparators: a pin is high while its post's sense node is between the two thresholds.
import { PINS } from './pins.mjs';

/** After connectOutputs: the world must know how the lines stand. */
export function connectEdges(chip, world) {
  const pins = PINS.edges.map((pin) => chip.gpio[pin]);
  const due = chip.clock.createAlarm(follow);
  function follow() {
    set(world.between(chip.clock.nanos));
    due.cancel();
    const at = world.edge_due(chip.clock.nanos);
    if (at >= 0) due.schedule(Math.max(at - chip.clock.nanos, 0));
  }
  const set = (between) =>
    pins.forEach((pin, post) => {
      const high = Boolean((between >> post) & 1);
      if (pin.rawInputValue !== high) pin.setInputValue(high);
    });
  for (const pin of [...PINS.drives, ...PINS.pulls, PINS.relays]) chip.gpio[pin].addListener(follow);
  // Nodes that nobody drives settle by themselves: as they stand when the chip looks.
  const { sio } = chip;
  const read = sio.readUint32.bind(sio);
  sio.readUint32 = (offset) => {
    if (offset === GPIO_IN) set(world.between(chip.clock.nanos));
    return read(offset);
  };
}

const GPIO_IN = 4;
