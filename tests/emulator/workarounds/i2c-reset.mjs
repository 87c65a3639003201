// RESETS puts an I2C block back to its first state: the emulator leaves it in the middle of a hung transfer.
const RESETS = 0x4000c;
const RESET = 0x0;
const I2C_BITS = [1 << 3, 1 << 4];
const IDLE = 0;

export function i2cReset(chip) {
  const resets = chip.peripherals[RESETS];
  const write = resets.writeUint32;
  resets.writeUint32 = function (offset, value) {
    write.call(this, offset, value);
    if (offset !== RESET) return;
    chip.i2c.forEach((i2c, number) => value & I2C_BITS[number] && reset(i2c));
  };
}

function reset(i2c) {
  i2c.txFIFO.reset();
  i2c.rxFIFO.reset();
  Object.assign(i2c, {
    state: IDLE, busy: false, stop: false, pendingRestart: false, firstByte: false,
    enable: 0, abortSource: 0, intRaw: 0, intEnable: 0,
  });
  i2c.checkInterrupts();
}
