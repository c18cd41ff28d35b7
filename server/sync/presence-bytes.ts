/** Presence as it lies on the wire, at sockets and between nodes (y-protocols, awareness.js). */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';

/** What one person shows: `state` is JSON, `null` when they have gone. */
export interface PresenceEntry {
  readonly client: number;
  readonly clock: number;
  readonly state: string;
}

/** Bytes of an awareness update. */
export function encodePresence(entries: readonly PresenceEntry[]): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, entries.length);
    for (const { client, clock, state } of entries) {
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, clock);
      encoding.writeVarString(encoder, state);
    }
  });
}

/** Reads an awareness update. @throws Error when it is cut off. */
export function decodePresence(bytes: Uint8Array): PresenceEntry[] {
  const decoder = decoding.createDecoder(bytes);
  const entries: PresenceEntry[] = [];
  for (let left = decoding.readVarUint(decoder); left > 0; left -= 1) {
    const client = decoding.readVarUint(decoder);
    const clock = decoding.readVarUint(decoder);
    entries.push({ client, clock, state: decoding.readVarString(decoder) });
  }
  return entries;
}
