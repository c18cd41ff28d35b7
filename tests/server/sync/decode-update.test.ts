/** Updates read straight from their bytes, against Yjs. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { decodeUpdate } from '../../../server/sync/decode-update.ts';
import { editStep, updatesOf } from './made-updates.ts';

/** What is read, or that nothing can be. */
function outcome(read: (update: Uint8Array) => unknown, update: Uint8Array): unknown {
  try {
    return plain(read(update) as ReturnType<typeof Y.decodeUpdate>);
  } catch (cause) {
    return (cause as Error).message;
  }
}

function plain({ structs, ds }: ReturnType<typeof Y.decodeUpdate>): unknown {
  return [
    structs.map((struct) => ({ kind: struct.constructor, ...struct })),
    [...ds.clients].map(([client, ranges]) => [client, ranges.map(({ clock, len }) => [clock, len])]),
  ];
}

/** Whether it is what is read straight. */
function isOneValue(update: Uint8Array): boolean {
  const [struct, ...others] = Y.decodeUpdate(update).structs;
  return struct instanceof Y.Item && struct.content instanceof Y.ContentAny && others.length === 0;
}

describe('an update', () => {
  it('is read as Yjs reads it, whatever it holds', () => {
    let straight = 0;
    fc.assert(
      fc.property(fc.array(editStep, { minLength: 1, maxLength: 12 }), (steps) => {
        const updates = updatesOf(steps);
        for (const update of [...updates, ...(updates.length > 0 ? [Y.mergeUpdates(updates)] : [])]) {
          if (isOneValue(update)) straight += 1;
          expect(outcome(decodeUpdate, update)).toEqual(outcome(Y.decodeUpdate, update));
        }
      }),
      { numRuns: 200 },
    );
    expect(straight).toBeGreaterThan(100);
  });

  it('of bytes that were changed or cut off is read or refused as Yjs does it', () => {
    let refused = 0;
    fc.assert(
      fc.property(
        fc.array(editStep, { minLength: 1, maxLength: 4 }),
        fc.nat(200),
        fc.nat(255),
        fc.boolean(),
        (steps, at, byte, isCut) => {
          for (const whole of updatesOf(steps)) {
            const update = isCut ? whole.slice(0, at % whole.length) : whole.slice();
            if (!isCut) update[at % whole.length] = byte;
            const found = outcome(decodeUpdate, update);
            if (typeof found === 'string') refused += 1;
            expect(found).toEqual(outcome(Y.decodeUpdate, update));
          }
        },
      ),
      { numRuns: 400 },
    );
    expect(refused).toBeGreaterThan(50);
  });
});
