// IC_INTR_MASK decides which I2C events interrupt: the emulator ignores it, and an async transfer waits for ever.
const IC_INTR_MASK = 0x30;
const ALL_EVENTS = 0x1fff;

export function i2cInterruptMask(i2c) {
  const write = i2c.writeUint32;
  i2c.writeUint32 = function (offset, value) {
    if (offset !== IC_INTR_MASK) return write.call(this, offset, value);
    this.intEnable = value & ALL_EVENTS;
    this.checkInterrupts();
  };
}
