/**
 * Which versions a board keeps as they grow older. Rules V130 to V134.
 *
 * Each part of the past has its steps: in the last hour a minute, in the last day an hour, in the last 30 days a day, before
 * that a week. Of the automatic versions within one step the newest stays. Steps begin at whole UTC minutes, hours, days and
 * weeks (Mondays), so each lies within one of the next longer kind, and it makes no difference how often the rule is applied.
 *
 * What holds work that somebody else then changed has caps of its own: who edits much pushes out none of it, and it pushes out nothing else.
 */

/**
 * `auto`: taken by itself; `many`: before much was changed at once; `wiped`: before somebody changed what others had made; `before`: what
 * stood there before a version was brought back; `late`: what somebody came back with when it had no place on the board any more; `named`:
 * by somebody.
 */
export type VersionKind = 'auto' | 'many' | 'wiped' | 'before' | 'late' | 'named';

export interface AgingVersion {
  readonly id: string;
  readonly kind: VersionKind;
  /** Milliseconds since 1970 (UTC). */
  readonly at: number;
  readonly size: number;
  /** When somebody last changed what others had made and this holds, in ms since 1970; null = nobody has. */
  readonly wipedAt: number | null;
}

export interface VersionCaps {
  /** Automatic ones of a board, those before a return included. */
  readonly automatic: number;
  readonly automaticBytes: number;
  /** Those that hold what was wiped. */
  readonly wiped: number;
  readonly wipedBytes: number;
  readonly named: number;
  readonly namedBytes: number;
}

/** What a board keeps at most. */
export const VERSION_CAPS: VersionCaps = {
  automatic: 400,
  automaticBytes: 16 * 1024 * 1024,
  wiped: 1000,
  wipedBytes: 32 * 1024 * 1024,
  named: 100,
  namedBytes: 8 * 1024 * 1024,
};

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const WEEK = 7 * DAY;
/** So long what holds others' work stays after somebody changed that. */
const WIPED_MS = 30 * DAY;
/** Nodes' clocks differ by less. */
const MOST_AHEAD = HOUR;
/** 1 January 1970 was a Thursday: from here on weeks begin on Mondays. */
const FIRST_MONDAY = 4 * DAY;

/** Steps by age, youngest first. */
const STEPS: readonly { readonly upToAge: number; readonly step: number }[] = [
  { upToAge: HOUR, step: MINUTE },
  { upToAge: DAY, step: HOUR },
  { upToAge: 30 * DAY, step: DAY },
  { upToAge: Number.POSITIVE_INFINITY, step: WEEK },
];

function stepOf(version: AgingVersion, now: number): string {
  // Nothing else holds what is in it.
  if (version.kind === 'late') return version.id;
  const { step } = STEPS.find(({ upToAge }) => now - version.at <= upToAge)!;
  const start = Math.floor((version.at - FIRST_MONDAY) / step);
  if (step !== MINUTE) return `${step} ${start}`;
  // Much may be changed more than once in a minute, and what stood there before a return must not give way to what is taken right after it.
  return version.kind === 'many' ? version.id : `${step} ${start} ${version.kind}`;
}

/** Oldest first; of the same moment by id, so that every node sees one order. */
export function byAge(a: Pick<AgingVersion, 'at' | 'id'>, b: Pick<AgingVersion, 'at' | 'id'>): number {
  return a.at - b.at || (a.id < b.id ? -1 : 1);
}

/** Whether a version is from a time to come: it was kept before the clock was set back. */
export function isToCome({ at }: Pick<AgingVersion, 'at'>, now: number): boolean {
  return at > now + MOST_AHEAD;
}

/** Whether a version holds what somebody changed not long ago who had not made it. */
function isHeld({ wipedAt }: AgingVersion, now: number): boolean {
  return wipedAt !== null && now - wipedAt <= WIPED_MS;
}

/**
 * The versions that the rule forgets, oldest first. Named ones never are; the first and the newest automatic one neither.
 * Those from a time to come are left alone, and nothing is forgotten for them: they would pass for the newest, and take the place of all
 * that is kept from now on.
 * O(n log n).
 */
export function thinnedOut(
  versions: readonly AgingVersion[],
  now: number,
  caps: VersionCaps = VERSION_CAPS,
): readonly AgingVersion[] {
  const all = versions.filter((one) => one.kind !== 'named' && !isToCome(one, now)).sort(byAge);
  const held = all.filter((one) => isHeld(one, now));
  const forgotten = new Set(beyond(held, caps));
  for (const one of beyondSteps(
    all.filter((one) => !isHeld(one, now)),
    now,
    caps,
  ))
    forgotten.add(one);
  // The first and the newest of all stay, wherever they count.
  return all.slice(1, -1).filter((one) => forgotten.has(one));
}

/** Of those that hold what was wiped, the oldest that are too many. */
function beyond(held: readonly AgingVersion[], caps: VersionCaps): AgingVersion[] {
  let count = held.length;
  let bytes = held.reduce((sum, { size }) => sum + size, 0);
  const gone: AgingVersion[] = [];
  for (const version of held) {
    if (count <= caps.wiped && bytes <= caps.wipedBytes) break;
    gone.push(version);
    count -= 1;
    bytes -= version.size;
  }
  return gone;
}

/** Of the others, those that are not the newest of their step, or too many. */
function beyondSteps(
  automatic: readonly AgingVersion[],
  now: number,
  caps: VersionCaps,
): readonly AgingVersion[] {
  const newest = new Map<string, AgingVersion>();
  for (const version of automatic) newest.set(stepOf(version, now), version);
  const staying = new Set(newest.values());
  const [first] = automatic;
  if (first !== undefined) staying.add(first);
  let count = staying.size;
  let bytes = [...staying].reduce((sum, { size }) => sum + size, 0);
  // Beyond the caps the oldest go, save the very first.
  for (const version of automatic.slice(1, -1)) {
    if (count <= caps.automatic && bytes <= caps.automaticBytes) break;
    if (!staying.delete(version)) continue;
    count -= 1;
    bytes -= version.size;
  }
  return automatic.filter((version) => !staying.has(version));
}
