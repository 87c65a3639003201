// A change from write to read inside one transfer sends a repeated START, and a first command a plain one, whatever bit 10 says.
const IC_DATA_CMD = 0x10;
const IC_ENABLE = 0x6c;
const READ = 1 << 8, STOP = 1 << 9, RESTART = 1 << 10;

export function i2cRestart(i2c) {
  const { writeUint32: write, abort } = i2c;
  let previous = STOP;
  i2c.writeUint32 = function (offset, value) {
    if (offset === IC_ENABLE && !(value & 1)) previous = STOP;
    if (offset === IC_DATA_CMD) {
      if (previous & STOP) value &= ~RESTART;
      else if ((previous ^ value) & READ) value |= RESTART;
      previous = value;
    }
    write.call(this, offset, value);
  };
  i2c.abort = function (reason) {
    previous = STOP;
    abort.call(this, reason);
  };
}
