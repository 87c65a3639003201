// Disabling the I2C block forgets its events: a STOP left from an aborted transfer would end the next one early.
const IC_ENABLE = 0x6c;
const ALL_EVENTS = 0x1fff;

export function i2cStaleStop(i2c) {
  const write = i2c.writeUint32;
  i2c.writeUint32 = function (offset, value) {
    write.call(this, offset, value);
    if (offset === IC_ENABLE && !(value & 1)) this.clearInterrupts(ALL_EVENTS);
  };
}
