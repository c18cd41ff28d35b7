/**
 * All that rooms do, written down: calls of the store, bytes to each socket, marks and close codes, in their order. `OTHER_DIST` names a
 * folder with another build, which must do the same to the byte; without it the trace is held against a second one of this build, which shows
 * that it can be relied on.
 */
// Before anything that loads Yjs.
import '../trace/seeded-crypto.ts';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CLOSE_CODES } from '../../../engine/document/index.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { traceOf } from '../trace/trace-script.ts';

const OWN = new URL('../../../dist/server/', import.meta.url);
const { OTHER_DIST } = process.env;
const OTHER = OTHER_DIST === undefined ? OWN : pathToFileURL(`${OTHER_DIST}/server/`);

const SEEDS = Array.from({ length: cases(15, 200) }, (_, i) => firstSeed + i);
const STEPS = 300;

/** What a script should come to. */
const REACHED: Readonly<Record<string, RegExp>> = {
  ...Object.fromEntries(
    Object.entries(CLOSE_CODES)
      // These a few seeds do not come to each time; they have tests of their own.
      .filter(([reason]) => !['busy', 'deleted', 'unknownBoard', 'boardFull', 'tooSlow'].includes(reason))
      .map(([reason, code]) => [`closed as ${reason}`, new RegExp(` closed ${code}`)]),
  ),
  'a renewal': /"event":"renewed"/,
  'a copy that was brought over': /"event":"brought-over"/,
  'a compaction': /store compact =/,
  'a failing store': /"event":"store-failing"/,
  'a store that recovered': /"event":"store-recovered"/,
  'too much that waits for the disk': /"event":"store-behind"/,
  'a reader that fell behind': /^larkboard_slow_readers_total [1-9]/,
  'a trial': /^trial of/,
  'a socket that was cut off': /^larkboard_terminated_total.* [1-9]/,
  'an edit by the server': /edit by the server stored/,
};

describe('the trace of rooms', () => {
  const all: string[] = [];

  it.each(SEEDS)('is the same as of the build before: seed %i', async (seed) => {
    const own = await traceOf(OWN, seed, STEPS);
    const other = await traceOf(OTHER, seed, STEPS);
    const at = own.findIndex((line, i) => line !== other[i]);
    const around = (lines: readonly string[]): readonly string[] => lines.slice(Math.max(0, at - 6), at + 4);
    if (at >= 0) expect(around(own), seedFailed(seed)).toEqual(around(other));
    expect(other).toHaveLength(own.length);
    all.push(...own);
  });

  it('comes to all that it is to show', () => {
    const missed = Object.entries(REACHED).filter(([, sign]) => !all.some((line) => sign.test(line)));
    expect(missed.map(([name]) => name)).toEqual([]);
  });
});
