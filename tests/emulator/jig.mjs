// The jig on a simulated bench: the unmodified RP2040 image, its USB serial port on standard input and output.
import { setImmediate as breathe } from 'node:timers/promises';
import { readArguments } from './arguments.mjs';
import { connectBus } from './bench/bus.mjs';
import { connectOutputs } from './bench/outputs.mjs';
import { openWorld } from './bench/world.mjs';
import { startChip } from './chip.mjs';
import { describeAddress, readElf } from './elf.mjs';
import { sleep } from './pace.mjs';
import { runSlice } from './run.mjs';
import { Serial } from './serial.mjs';
import { UsbHost } from './usb/host.mjs';

/** How long the jig may still answer, in simulated time, after its host has left. */
const LAST_WORDS_NANOS = 2e9;

async function main() {
  const options = readArguments(process.argv.slice(2));
  const elf = readElf(options.image);
  const world = await openWorld(options.world, options.scene, options.seed);
  const chip = startChip(elf);
  connectOutputs(chip, world);
  connectBus(chip, world);
  const serial = new Serial((bytes) => host.send(bytes));
  const host = new UsbHost(chip, (bytes, next) => serial.send(bytes, next));
  try {
    await run(chip, serial, host);
  } catch (error) {
    const { PC, LR } = chip.core;
    throw new Error(`${error.message}\n  at ${describeAddress(elf, PC)}, called from ${describeAddress(elf, LR & ~1)}, ` +
      `${seconds(chip.clock.nanos)} simulated`);
  }
}

async function run(chip, serial, host) {
  let leaveAt = Infinity;
  for (;;) {
    const wait = runSlice(chip);
    if (serial.gone) {
      leaveAt = Math.min(leaveAt, chip.clock.nanos + LAST_WORDS_NANOS);
      if ((wait > 0 && host.idle) || chip.clock.nanos > leaveAt || wait === Infinity) return;
    }
    if (wait > 0) await sleep(chip, wait, () => serial.activity());
    else await breathe();
  }
}

function seconds(nanos) {
  return `${(nanos / 1e9).toFixed(6)} s`;
}

main().then(
  () => process.exit(0),
  (error) => {
    process.stderr.write(`emulated jig: ${error.message}\n`);
    process.exit(1);
  },
);
