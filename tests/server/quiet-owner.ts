import type { SaverOwner } from '../../server/sync/saver.ts';

/** Hears of what is stored and does nothing; a fault is the test's. */
export const QUIET_OWNER: SaverOwner = {
  generation: 1,
  unsaved: { add: () => {} },
  onSaved: () => {},
  onFailing: () => {},
  onRecovered: () => {},
  onLost: () => {},
  broke: (what: string, cause: unknown) => {
    throw new Error(what, { cause });
  },
};
