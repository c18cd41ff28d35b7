/**
 * Makes the random numbers of the server, of Yjs and of Node those of a seed, for whoever compares what two runs do to the byte. Yjs binds
 * its source when it is loaded, so this must be imported before anything that loads it.
 */
import crypto from 'node:crypto';
import { syncBuiltinESMExports } from 'node:module';
import { seededRandom } from '../../support/seeded-random.ts';

let random = seededRandom(0);

/** Begins anew with a seed. */
export function seedCrypto(seed: number): void {
  random = seededRandom(seed);
}

function fill<T extends ArrayBufferView>(view: T): T {
  const bytes = new Uint8Array(view.buffer, view.byteOffset, view.byteLength);
  for (let i = 0; i < bytes.length; i += 1) bytes[i] = random.below(256);
  return view;
}

const uuid = (): string =>
  fill(Buffer.alloc(16))
    .toString('hex')
    .replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');

Object.assign(crypto, { randomBytes: (size: number) => fill(Buffer.alloc(size)), randomUUID: uuid });
Object.defineProperty(crypto.webcrypto, 'getRandomValues', { value: fill });
syncBuiltinESMExports();
