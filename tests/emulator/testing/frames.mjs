// Frames of the jig's protocol, as far as the harness's own tests speak it: postcard, CRC-32, COBS, zero.
const EVENTS = [
  'hello', 'identity', 'armed', 'started', 'pattern', 'done', 'stopped', 'hazard', 'refused', 'heartbeat', 'rise',
  'warm', 'restarted', 'key', 'kept', 'recalled', 'not kept', 'edges',
];
const VERSION = 1, OPEN_PHASE = 0, PLUG_PHASE = 1, LIVE_PHASE = 3, SUPPLY_LOAD_PHASE = 6, FIXTURE_PHASE = 7, FLEX_PHASE = 8, FLEX_ACROSS_PHASE = 10;

export const HELLO = frame([0, VERSION, 42]);
export const IDENTIFY = frame([1]);
export const MEASURE_OPEN = frame([2, OPEN_PHASE]);
export const MEASURE = frame([2, PLUG_PHASE]);
export const MEASURE_LIVE = frame([2, LIVE_PHASE]);
export const MEASURE_SUPPLY_LOAD = frame([2, SUPPLY_LOAD_PHASE]);
export const MEASURE_FIXTURE = frame([2, FIXTURE_PHASE]);
export const MEASURE_FLEX = frame([2, FLEX_PHASE]);
export const MEASURE_FLEX_ACROSS = frame([2, FLEX_ACROSS_PHASE]);
export const ABORT = frame([3]);
export const REARM = frame([4]);
export const REPLAY_OPEN = frame([6, OPEN_PHASE]);
export const REPLAY_PLUG = frame([6, PLUG_PHASE]);
/** What a jig keeps, by its key. */
export const ZERO = 0, PLUG = 1;
export const keep = (key, record) => frame([7, key, ...number(record.length), ...record]);
export const recall = (key) => frame([8, key]);

/** Lights the key's lights: a pattern of sixteen steps, and the posts, from 0, that reach its contacts 1–4. */
export const lightFar = (pattern, posts) => frame([9, ...number(pattern), ...posts]);

/** A whole number, seven bits a byte, the least first. */
export function number(value) {
  return value < 0x80 ? [value] : [(value & 0x7f) | 0x80, ...number(Math.floor(value / 128))];
}

/** Collects bytes; returns the events that they complete, as {kind, body}. */
export class Events {
  #rest = Buffer.alloc(0);

  take(bytes) {
    this.#rest = Buffer.concat([this.#rest, bytes]);
    const found = [];
    for (let end; (end = this.#rest.indexOf(0)) >= 0; this.#rest = this.#rest.subarray(end + 1)) {
      if (end > 0) found.push(event(this.#rest.subarray(0, end)));
    }
    return found;
  }
}

function event(coded) {
  const message = decode(coded);
  const [body, sum] = [message.subarray(0, -4), message.readUInt32LE(message.length - 4)];
  if (crc32(body) !== sum) throw new Error(`a damaged frame: ${coded.toString('hex')}`);
  return { kind: EVENTS[body[0]], body };
}

/** An edges event's body: its index, how many were dropped before, and each edge's time in µs, posts that carry, posts that changed. */
export function edges(body) {
  let at = 1;
  const next = () => {
    let value = 0, times = 1, byte;
    do {
      byte = body[at++];
      value += (byte & 0x7f) * times;
      times *= 128;
    } while (byte >= 0x80);
    return value;
  };
  const [index, , dropped, count] = [next(), next(), next(), next()];
  return { index, dropped, edges: Array.from({ length: count }, () => ({ at: next(), carries: next(), changed: next() })) };
}

/** The signed number that begins at a byte: seven bits a byte, the least first, and the sign last. */
export function signed(bytes) {
  const end = bytes.findIndex((byte) => byte < 0x80);
  const coded = bytes.subarray(0, end + 1).reduceRight((high, byte) => high * 128 + (byte & 0x7f), 0);
  return coded % 2 === 0 ? coded / 2 : -(coded + 1) / 2;
}

function frame(body) {
  const message = Buffer.alloc(body.length + 4);
  message.set(body);
  message.writeUInt32LE(crc32(message.subarray(0, body.length)), body.length);
  return encode(message);
}

export function crc32(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

/** For messages shorter than one COBS block. */
function encode(message) {
  const runs = [[]];
  for (const byte of message) byte === 0 ? runs.push([]) : runs.at(-1).push(byte);
  return Buffer.from([...runs.flatMap((run) => [run.length + 1, ...run]), 0]);
}

function decode(coded) {
  const message = [];
  for (let at = 0, next; at < coded.length; at = next) {
    next = at + coded[at];
    message.push(...coded.subarray(at + 1, next));
    if (coded[at] < 0xff && next < coded.length) message.push(0);
  }
  return Buffer.from(message);
}
