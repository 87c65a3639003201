// Which pin of the chip is what on the bench: the same table as firmware/src/boards/rp2040/pins.rs.
export const PINS = {
  i2c: 0,
  scl: 1,
  drives: [2, 3, 4, 5],
  pulls: [6, 7],
  references: [10, 11, 12, 13],
  relays: 8,
  load: 9,
  lamps: [14, 15, 16, 17],
  sounder: 18,
  key: 19,
  edges: [20, 21, 22, 23],
  supplyLoad: 24,
  ring: 25,
  followers: [26, 27, 28, 29],
};
