// The I2C bus: each byte takes its time on the wires, then the world's converters answer.
import { I2CMode } from 'rp2040js';
import { PINS } from './pins.mjs';

/** Eight bits and the acknowledge. */
const BYTE_BITS = 9;

/** For tests: while `trouble.held`, nothing that begins on the wires comes to its end; `stopBits` is the length of a STOP. */
export function connectBus(chip, world, trouble = {}) {
  const i2c = chip.i2c[PINS.i2c];
  const bitNanos = () => ((i2c.sclLowPeriod + i2c.sclHighPeriod) * 1e9) / chip.clkPeri;
  const after = (bits, then) => {
    if (trouble.held) return;
    chip.clock.createAlarm(() => then(chip.clock.nanos)).schedule(bits * bitNanos());
  };
  i2c.onStart = () => after(1, () => i2c.completeStart());
  i2c.onConnect = (address, mode) =>
    after(BYTE_BITS, (at) => i2c.completeConnect(Boolean(world.i2c_start(address, Number(mode === I2CMode.Read), at))));
  i2c.onWriteByte = (byte) => after(BYTE_BITS, (at) => i2c.completeWrite(Boolean(world.i2c_write(byte, at))));
  i2c.onReadByte = () => after(BYTE_BITS, (at) => i2c.completeRead(world.i2c_read(at)));
  i2c.onStop = () =>
    after(trouble.stopBits ?? 1, (at) => {
      world.i2c_stop(at);
      i2c.completeStop();
    });
}
