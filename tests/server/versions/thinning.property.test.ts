import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { thinnedOut, VERSION_CAPS } from '../../../server/versions/index.ts';
import type { AgingVersion } from '../../../server/versions/thinning.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const WEEK = 7 * DAY;
const NOW = Date.UTC(2026, 10, 25, 10, 30);
const unlimited = {
  ...VERSION_CAPS,
  automatic: 1e9,
  automaticBytes: 1e15,
  wiped: 1e9,
  wipedBytes: 1e15,
};

/** Versions of the last two years, thick where it is recent, and how many of them are at the same moment. */
const anyVersions = fc
  .uniqueArray(
    fc.record({
      id: fc.string({ minLength: 1, maxLength: 4 }),
      kind: fc.constantFrom('auto', 'auto', 'auto', 'before', 'named'),
      // How long before it was wiped, of the few that were.
      wiped: fc.option(fc.integer({ min: 0, max: 40 * DAY }), { freq: 4 }),
      age: fc.oneof(
        fc.integer({ min: -MINUTE, max: 2 * HOUR }),
        fc.integer({ min: 0, max: 3 * DAY }),
        fc.integer({ min: 0, max: 700 * DAY }),
      ),
      size: fc.integer({ min: 1, max: 100_000 }),
    }),
    { selector: ({ id }) => id, maxLength: 120 },
  )
  .map((list) =>
    list.map(({ age, wiped, ...rest }): AgingVersion => {
      const at = NOW - age;
      return { ...rest, at, wipedAt: wiped === null ? null : at + wiped };
    }),
  );
/** None of which was wiped. */
const plainVersions = anyVersions.map((list) => list.map((version) => ({ ...version, wipedAt: null })));
const isHeld = ({ wipedAt }: AgingVersion, now: number): boolean =>
  wipedAt !== null && now - wipedAt <= 30 * DAY;

const keep = (versions: readonly AgingVersion[], now: number, caps = unlimited): AgingVersion[] => {
  const gone = new Set(thinnedOut(versions, now, caps));
  return versions.filter((version) => !gone.has(version));
};
const automatic = (versions: readonly AgingVersion[]) =>
  versions.filter(({ kind }) => kind !== 'named').sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
/** Monday, 00:00 UTC, by the calendar and not by division. */
function weekOf(at: number): string {
  const day = new Date(at);
  day.setUTCDate(day.getUTCDate() - ((day.getUTCDay() + 6) % 7));
  return day.toISOString().slice(0, 10);
}
const stepName = (at: number, now: number): string => {
  const text = new Date(at).toISOString();
  if (now - at <= HOUR) return text.slice(0, 16);
  if (now - at <= DAY) return text.slice(0, 13);
  return now - at <= 30 * DAY ? text.slice(0, 10) : `week of ${weekOf(at)}`;
};

describe('thinning out', () => {
  it('[V130] in each minute, hour, day or week of its age the newest automatic version stays', () => {
    fc.assert(
      fc.property(plainVersions, (versions) => {
        const kept = new Set(keep(versions, NOW));
        const all = automatic(versions);
        for (const version of all) {
          const step = stepName(version.at, NOW);
          const later = all.filter((one) => stepName(one.at, NOW) === step && one.at > version.at);
          if (later.length === 0 && all.filter((one) => one.at === version.at).length === 1)
            expect(kept.has(version), step).toBe(true);
          // What stood before a return has minutes of its own.
          const ofKind = later.filter((one) => one.kind === version.kind);
          if (version !== all[0] && (step.length === 16 ? ofKind : later).length > 0)
            expect(kept.has(version), step).toBe(false);
        }
      }),
    );
  });

  it('[V131] the first and the newest automatic version stay, whatever the caps', () => {
    fc.assert(
      fc.property(plainVersions, fc.nat(20), fc.nat(300_000), (versions, most, bytes) => {
        const caps = { ...VERSION_CAPS, automatic: most, automaticBytes: bytes };
        const kept = automatic(keep(versions, NOW, caps));
        const all = automatic(versions);
        if (all.length === 0) return;
        expect(kept[0]?.at).toBe(all[0]?.at);
        expect(kept.at(-1)?.at).toBe(all.at(-1)?.at);
        if (kept.length > 2) {
          expect(kept.length).toBeLessThanOrEqual(most);
          expect(kept.reduce((sum, { size }) => sum + size, 0)).toBeLessThanOrEqual(bytes);
        }
      }),
    );
  });

  it('[V132] beyond the caps the oldest go, and none that may stay', () => {
    fc.assert(
      fc.property(plainVersions, fc.integer({ min: 2, max: 20 }), (versions, most) => {
        const whole = automatic(keep(versions, NOW));
        const kept = automatic(keep(versions, NOW, { ...unlimited, automatic: most }));
        expect(kept).toHaveLength(Math.min(most, whole.length));
        expect(kept).toEqual(whole.length <= most ? whole : [whole[0], ...whole.slice(1 - most)]);
      }),
    );
  });

  it('[V404] what others changed stays for 30 days, whatever else there is; beyond its own caps the oldest go', () => {
    fc.assert(
      fc.property(anyVersions, fc.integer({ min: 1, max: 10 }), (versions, most) => {
        const held = automatic(versions).filter((one) => isHeld(one, NOW));
        const crowded = { ...unlimited, automatic: 0, automaticBytes: 0 };
        const kept = new Set(keep(versions, NOW, crowded));
        expect(held.filter((one) => !kept.has(one))).toEqual([]);
        const few = new Set(keep(versions, NOW, { ...crowded, wiped: most }));
        const [first, last] = [automatic(versions)[0], automatic(versions).at(-1)];
        const left = held.filter((one) => one !== first && one !== last && few.has(one));
        expect(left).toEqual(held.slice(-most).filter((one) => one !== first && one !== last));
        // What was wiped long ago is as all others.
        const later = keep(versions, NOW + 80 * DAY);
        expect(later).toEqual(
          keep(
            versions.map((one) => ({ ...one, wipedAt: null })),
            NOW + 80 * DAY,
          ).map(({ id }) => versions.find((one) => one.id === id)),
        );
      }),
    );
  });

  it('[V133] a named version is never thinned out', () => {
    fc.assert(
      fc.property(anyVersions, fc.nat(5), (versions, most) => {
        const gone = thinnedOut(versions, NOW, { ...VERSION_CAPS, automatic: most, automaticBytes: 0 });
        expect(gone.filter(({ kind }) => kind === 'named')).toEqual([]);
      }),
    );
  });

  it('[V134] it makes no difference how often the rule was applied on the way', () => {
    fc.assert(
      fc.property(
        anyVersions,
        fc.array(fc.integer({ min: 0, max: 60 * DAY }), { maxLength: 4 }),
        (versions, waits) => {
          let now = NOW;
          let stepwise = versions;
          for (const wait of [0, ...waits]) {
            now += wait;
            stepwise = keep(stepwise, now);
          }
          expect(stepwise).toEqual(keep(versions, now));
          expect(thinnedOut(stepwise, now, unlimited)).toEqual([]);
        },
      ),
    );
  });

  it('[V130] [V132] a version each minute for three years stays within what the rule promises', () => {
    let kept: AgingVersion[] = [];
    const start = NOW - 3 * 365 * DAY;
    // Minutes of the last day, half hours before it: enough to fill every step.
    for (let at = start; at <= NOW; at += NOW - at > DAY ? HOUR / 2 : MINUTE) {
      kept.push({ id: String(at), kind: 'auto', at, size: 1000, wipedAt: null });
      if (kept.length > 450) kept = keep(kept, at, VERSION_CAPS);
    }
    kept = keep(kept, NOW, VERSION_CAPS);
    const within = (from: number, to: number) =>
      kept.filter(({ at }) => NOW - at > from && NOW - at <= to).length;
    expect(within(-1, HOUR)).toBe(61);
    expect(within(HOUR, DAY)).toBe(24);
    expect([30, 31]).toContain(within(DAY, 30 * DAY));
    expect(Math.abs(within(30 * DAY, 3 * 365 * DAY + 1) - (3 * 365 * DAY - 30 * DAY) / WEEK)).toBeLessThan(3);
    expect(kept.length).toBeLessThanOrEqual(VERSION_CAPS.automatic);
  });
});
