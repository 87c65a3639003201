// What a host asks before it opens the serial port: descriptors, address, configuration, line coding, DTR.
import {
  createSetupPacket, DataDirection, DescriptorType, getDescriptorPacket,
  setDeviceAddressPacket, setDeviceConfigurationPacket, SetupRecipient, SetupType,
} from 'rp2040js';

const SET_LINE_CODING = 0x20, SET_CONTROL_LINE_STATE = 0x22;
const DTR_AND_RTS = 3;
const CONTROL_INTERFACE = 0, DATA_CLASS = 0x0a, BULK = 2;
const NOTHING = new Uint8Array(0);
/** 115 200 baud, 8N1: the image must take it and ignore it. */
const LINE_CODING = Uint8Array.of(0x00, 0xc2, 0x01, 0x00, 0, 0, 8);

/** Yields one step at a time ({setup} | {read} | {write}); returns the numbers of the bulk endpoints. */
export function* enumerate() {
  const device = yield* ask(DescriptorType.Device, 18);
  yield* tell(setDeviceAddressPacket(1));
  const head = yield* ask(DescriptorType.Configration, 9);
  const configuration = yield* ask(DescriptorType.Configration, head[2] | (head[3] << 8));
  yield* tell(setDeviceConfigurationPacket(1));
  yield* tell(toInterface(SET_LINE_CODING, 0, LINE_CODING.length), LINE_CODING);
  yield* tell(toInterface(SET_CONTROL_LINE_STATE, DTR_AND_RTS, 0));
  return { device, ...bulkEndpoints(configuration) };
}

function* ask(descriptor, length) {
  yield { setup: getDescriptorPacket(descriptor, length) };
  const bytes = [];
  for (let packet; bytes.length < length && packet?.length !== 0; ) {
    packet = yield { read: 0 };
    bytes.push(...packet);
    if (packet.length < 64) break;
  }
  yield { write: 0, bytes: NOTHING };
  return bytes;
}

function* tell(setup, bytes) {
  yield { setup };
  if (bytes) yield { write: 0, bytes };
  yield { read: 0 };
}

function toInterface(bRequest, wValue, wLength) {
  return createSetupPacket({
    dataDirection: DataDirection.HostToDevice,
    type: SetupType.Class,
    recipient: SetupRecipient.Interface,
    bRequest, wValue, wIndex: CONTROL_INTERFACE, wLength,
  });
}

export function bulkEndpoints(configuration) {
  const found = {};
  let inData = false;
  for (let at = 0; at < configuration.length; at += configuration[at]) {
    const [, kind, address, attributes] = configuration.slice(at);
    if (kind === DescriptorType.Interface) inData = configuration[at + 5] === DATA_CLASS;
    if (kind === DescriptorType.Endpoint && inData && (attributes & 3) === BULK) {
      found[address & 0x80 ? 'in' : 'out'] = address & 0x0f;
    }
  }
  return found;
}
