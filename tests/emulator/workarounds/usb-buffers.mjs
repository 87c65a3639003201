// An armed USB buffer stays armed until a packet has moved: the emulator clears AVAILABLE at once and answers one ping 2000 times.
const FIRST = 0x80, LAST = 0xfc;

/** Calls `armed(endpoint, out)` when the image hands over a buffer, `stalled(endpoint)` when it refuses. */
export function usbBuffers(usb, { armed, stalled }) {
  usb.DPRAMUpdated = (offset, value) => {
    if (offset < FIRST || offset > LAST) return;
    const endpoint = (offset - FIRST) >> 3;
    if (value & STALL) stalled(endpoint);
    else if (value & AVAILABLE) armed(endpoint, Boolean(offset & 4));
  };
}

export const AVAILABLE = 1 << 10, STALL = 1 << 11, FULL = 1 << 15, LENGTH = 0x3ff;
