import { describe, expect, it } from 'vitest';
import {
  BEGINNING,
  type Holding,
  type HoldingEvent,
  isLacking,
  isOverdue,
  mayBeOther,
  mayGoOver,
  stepHolding,
} from '../../../server/sync/holding.ts';
import { cases, firstSeed, seedFailed } from '../../support/depth.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const MOST_MS = 5_000;

/** The same by six values that are changed: what the machine must agree with. */
class Model {
  mayBeOther = true;
  hasMissing = false;
  isVisited = false;
  asks = 0;
  askedAt: number | null = null;
  unanswered: Uint8Array | null = null;

  take(event: HoldingEvent): void {
    switch (event.kind) {
      case 'shown':
        this.mayBeOther = false;
        return;
      case 'met':
        this.mayBeOther = true;
        this.hasMissing = true;
        this.isVisited = true;
        this.askedAt = null;
        this.asks = 0;
        return;
      case 'asked-early':
        if (this.isVisited) this.unanswered = event.stateVector;
        return;
      case 'no-copy':
        this.isVisited = false;
        this.mayBeOther = false;
        this.unanswered = null;
        return;
      case 'passed-over':
        this.hasMissing = true;
        return;
      case 'unplaced':
        this.hasMissing = true;
        this.asks = 1;
        return;
      case 'asked-for-all':
        if (!this.isVisited) this.askedAt = event.now;
        return;
      case 'answered':
        this.askedAt = null;
        return;
      case 'all-taken':
        if (this.isVisited) return;
        this.askedAt = null;
        this.asks = 0;
        this.hasMissing = false;
        return;
      case 'set-back':
        if (this.askedAt !== null) this.askedAt = Math.min(this.askedAt, event.now);
    }
  }

  isOverdue(now: number): boolean {
    return this.askedAt !== null && this.asks > 0 && now - this.askedAt > MOST_MS;
  }
}

const upon = (...events: readonly HoldingEvent[]): Holding =>
  events.reduce((holding, event) => Object.freeze(stepHolding(holding, event)), BEGINNING);

describe('what the client at a socket holds', () => {
  it('[V108] who has not shown it gets no edits; who has asked for the document does', () => {
    expect(mayBeOther(BEGINNING)).toBe(true);
    expect(mayBeOther(upon({ kind: 'shown' }))).toBe(false);
    expect(mayBeOther(upon({ kind: 'shown' }, { kind: 'met' }))).toBe(true);
  });

  it('[V25] edits without their base have marks wait until all came, whatever was shown before', () => {
    const asking = upon({ kind: 'unplaced' }, { kind: 'asked-for-all', now: 10 });
    expect([asking.kind, isLacking(asking), mayBeOther(asking)]).toEqual(['asking', true, true]);
    const taken = stepHolding(asking, { kind: 'all-taken' });
    expect([taken.kind, isLacking(taken)]).toEqual(['joining', false]);
    const live = stepHolding(stepHolding(asking, { kind: 'shown' }), { kind: 'all-taken' });
    expect([live.kind, isLacking(live)]).toEqual(['live', false]);
  });

  it('[V43] the base is waited for from the last question on', () => {
    const events: HoldingEvent[] = [{ kind: 'unplaced' }, { kind: 'asked-for-all', now: 10 }];
    expect(isOverdue(upon(...events), 10 + MOST_MS, MOST_MS)).toBe(false);
    expect(isOverdue(upon(...events), 11 + MOST_MS, MOST_MS)).toBe(true);
    expect(isOverdue(upon(...events, { kind: 'asked-for-all', now: 20 }), 11 + MOST_MS, MOST_MS)).toBe(false);
    expect(isOverdue(upon({ kind: 'unplaced' }), 1e9, MOST_MS)).toBe(false);
  });

  it('[V43] who has answered is waited for no longer, though it is not taken yet, until asked again', () => {
    const events: HoldingEvent[] = [
      { kind: 'unplaced' },
      { kind: 'asked-for-all', now: 10 },
      { kind: 'answered' },
      { kind: 'passed-over' },
    ];
    expect([isOverdue(upon(...events), 1e9, MOST_MS), isLacking(upon(...events))]).toEqual([false, true]);
    const again = upon(...events, { kind: 'asked-for-all', now: 20 });
    expect([isOverdue(again, 20 + MOST_MS, MOST_MS), isOverdue(again, 21 + MOST_MS, MOST_MS)]).toEqual([
      false,
      true,
    ]);
    expect(upon({ kind: 'answered' })).toBe(BEGINNING);
  });

  it('[V357] a question that came early waits, over whatever else is met', () => {
    const early: HoldingEvent = { kind: 'asked-early', stateVector: Uint8Array.of(1) };
    expect(upon({ kind: 'met' }, early, { kind: 'met' })).toMatchObject({ unanswered: Uint8Array.of(1) });
    expect(upon(early)).toBe(BEGINNING);
  });

  it('[V492] who was handed over is waited for until they have gone over, whatever they say; only who is live can be', () => {
    const goingOver = upon({ kind: 'shown' }, { kind: 'passed-over' }, { kind: 'handed-over' });
    for (const event of ['shown', 'met', 'passed-over', 'unplaced', 'answered', 'all-taken'] as const)
      expect(stepHolding(goingOver, { kind: event })).toBe(goingOver);
    expect([mayBeOther(goingOver), isLacking(goingOver), mayGoOver(goingOver)]).toEqual([
      false,
      false,
      false,
    ]);
    expect(stepHolding(goingOver, { kind: 'followed' })).toBe(upon({ kind: 'shown' }));
    expect(mayGoOver(upon({ kind: 'shown' }, { kind: 'passed-over' }))).toBe(true);
    for (const other of [BEGINNING, upon({ kind: 'met' }), upon({ kind: 'shown' }, { kind: 'unplaced' })])
      expect(mayGoOver(other)).toBe(false);
    // Who was told nothing has nowhere to go.
    expect(upon({ kind: 'followed' })).toBe(BEGINNING);
  });

  it('quiet sockets share what they hold', () => {
    expect(upon({ kind: 'shown' })).toBe(
      upon({ kind: 'passed-over' }, { kind: 'shown' }, { kind: 'all-taken' }),
    );
  });

  it('agrees with six values that are changed, whatever comes', () => {
    const kinds = new Set<string>();
    for (let seed = firstSeed; seed < firstSeed + cases(200, 10_000); seed += 1) {
      const random = seededRandom(seed);
      const model = new Model();
      let holding = BEGINNING;
      let now = 0;
      for (let i = 0; i < 40; i += 1) {
        now = Math.max(0, now + random.pick([0, 1_000, 3_000, 6_000, -4_000]));
        const events: HoldingEvent[] = [
          { kind: 'shown' },
          { kind: 'met' },
          { kind: 'asked-early', stateVector: Uint8Array.of(i) },
          { kind: 'passed-over' },
          { kind: 'answered' },
          { kind: 'all-taken' },
          { kind: 'set-back', now },
        ];
        // Only what is met is found to be no copy; edits are tried on the document where nothing is.
        if (model.isVisited) events.push({ kind: 'no-copy' });
        else events.push({ kind: 'unplaced' }, { kind: 'unplaced' });
        const event = random.pick(events);
        const all: HoldingEvent[] = [event];
        // The room asks with the first of them, and now and then for reasons of its own.
        if (event.kind === 'unplaced' && model.asks === 0) all.push({ kind: 'asked-for-all', now });
        else if (random.chance(0.1)) all.push({ kind: 'asked-for-all', now });
        for (const one of all) {
          holding = stepHolding(Object.freeze(holding), one);
          model.take(one);
        }
        kinds.add(holding.kind);
        const own = [
          mayBeOther(holding),
          isLacking(holding),
          isOverdue(holding, now + 3_000, MOST_MS),
          holding.kind === 'past' ? holding.unanswered : null,
        ];
        const { hasMissing, unanswered } = model;
        expect(own, seedFailed(seed)).toEqual([
          model.mayBeOther,
          hasMissing,
          model.isOverdue(now + 3_000),
          unanswered,
        ]);
      }
    }
    expect([...kinds].sort()).toEqual(['asking', 'joining', 'live', 'past']);
  });
});
