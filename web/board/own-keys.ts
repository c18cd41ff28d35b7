/**
 * Which keys this maker uses: those of the list of actions, or ones of their own, kept on this device.
 *
 * Nothing is written for an action that keeps its keys. A key that was given to one action is taken from whichever had it in the list, for as
 * long as it is given so.
 */
import { Subject } from '../context/index.ts';
import type { BoardAction } from './board-action.ts';

export interface OwnKeys {
  /** The first key of an action, by its id, where it is another than in the list. */
  readonly keys: Readonly<Record<string, string>>;
  /** Whether letters, digits and signs mean anything without Ctrl or Alt (WCAG 2.2, 2.1.4). */
  readonly hasSingles: boolean;
}

export const NO_OWN_KEYS: OwnKeys = { keys: {}, hasSingles: true };

export const OWN_KEYS = 'larkboard.keys';

/** What holds now. Read from the device by {@link followOwnKeys}. */
export const ownKeys = new Subject(NO_OWN_KEYS);

/** Whether a letter, digit or sign alone, or with Shift, is meant. */
export function isSingle(keys: string): boolean {
  return /^(Shift\+)?.$/.test(keys);
}

/** The keys of an action, the first of them the one to show. */
export function keysOf({ id, keys = [] }: Pick<BoardAction, 'id' | 'keys'>): readonly string[] {
  const { keys: own, hasSingles } = ownKeys.value;
  const chosen = own[id];
  const others = Object.keys(own).filter((one) => one !== id);
  const all = chosen === undefined ? keys : [chosen, ...keys.slice(1)];
  return all.filter((one) => (hasSingles || !isSingle(one)) && !others.some((other) => own[other] === one));
}

/** What was kept; what is no such thing counts as nothing. */
function readKept(text: string | null): OwnKeys {
  if (text === null) return NO_OWN_KEYS;
  try {
    const kept = JSON.parse(text) as Partial<OwnKeys> | null;
    const own = Object.entries(kept?.keys ?? {}).filter(([, one]) => typeof one === 'string' && one !== '');
    return { keys: Object.fromEntries(own), hasSingles: kept?.hasSingles !== false };
  } catch (cause) {
    if (!(cause instanceof SyntaxError)) throw cause;
    return NO_OWN_KEYS;
  }
}

/** Reads what was kept, and calls whenever it becomes something else, in another tab too. @returns stops it */
export function followOwnKeys(call: () => void): () => void {
  const read = (): void => ownKeys.set(readKept(localStorage.getItem(OWN_KEYS)));
  const onStorage = ({ key }: StorageEvent): void => {
    if (key === OWN_KEYS) read();
  };
  read();
  addEventListener('storage', onStorage);
  const stop = ownKeys.subscribe(call);
  return () => {
    stop();
    removeEventListener('storage', onStorage);
  };
}
