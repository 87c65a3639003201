// The flash chip tells its id: the emulator's SSI passes every command over but the one that reads the status.
const SSI = 0x18000;
const SSIENR = 0x08, DATA = 0x60;
/** Read unique ID: four bytes of nothing, then the id (data sheets of serial NOR flash: Read Unique ID Number). */
const READ_ID = 0x4b, DUMMY = [0, 0, 0, 0];

export function flashId(chip, id) {
  const ssi = chip.peripherals[SSI];
  const { readUint32: read, writeUint32: write } = ssi;
  let answer = [];
  ssi.writeUint32 = function (offset, value) {
    if (offset === SSIENR) answer = [];
    if (offset === DATA && (value & 0xff) === READ_ID) answer = [...DUMMY, ...id];
    write.call(this, offset, value);
  };
  ssi.readUint32 = function (offset) {
    return offset === DATA && answer.length > 0 ? answer.shift() : read.call(this, offset);
  };
}
