/**
 * Packs where it is asked for, in place of in a thread of the system, whose moments no seed repeats. To be imported before what packs.
 */
import { syncBuiltinESMExports } from 'node:module';
import zlib, { deflateRawSync, type InputType } from 'node:zlib';

function deflateRawAtOnce(bytes: InputType, done: (error: Error | null, packed: Buffer) => void): void {
  done(null, deflateRawSync(bytes));
}

Object.assign(zlib, { deflateRaw: deflateRawAtOnce });
syncBuiltinESMExports();
