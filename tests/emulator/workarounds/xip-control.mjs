// The cache's registers can be read: no stream is running. The emulator has none, and a driver that asks would fault.
import { ImageFault } from './image-fault.mjs';

const XIP_CONTROL = 0x14000;
const ANSWERS = new Map([
  [0x08, 0b011], // status: flush ready, FIFO empty
  [0x18, 0], // stream counter
]);

export function xipControl(chip) {
  const unknown = (offset) => {
    throw new ImageFault(`a register of the cache that is not implemented yet: 0x${offset.toString(16)}`);
  };
  chip.peripherals[XIP_CONTROL] = {
    readUint32: (offset) => ANSWERS.get(offset) ?? unknown(offset),
    writeUint32Atomic: unknown,
  };
}
