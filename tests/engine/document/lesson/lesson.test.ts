/** The document of a lesson: what is written comes back, and whatever a peer wrote is read. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import {
  dropDrawings,
  keepDrawing,
  readLesson,
  removeStop,
  type Stop,
  takeLead,
  writePlan,
  writeStop,
  writeTeachersPlace,
} from '../../../../engine/document/lesson/lesson.ts';

const stop = (id: string, done: number, more: Partial<Stop> = {}): Stop => ({
  id,
  place: { stage: 'mount', done },
  note: '',
  waits: false,
  minutes: null,
  ...more,
});

describe('the document of a lesson', () => {
  it('[D381] gives back plan, step, lead and drawings as they were written', () => {
    const doc = new Y.Doc();
    const plan = [stop('a', 0, { note: 'ring first', waits: true, minutes: 5 }), stop('b', 4)];
    writePlan(doc, plan);
    writeTeachersPlace(doc, { stage: 'tie', knot: 'band 1 0 2' });
    takeLead(doc, { page: 'p1', name: 'Orla' });
    keepDrawing(doc, { id: 'd', stop: 'b', stroke: [1, 2, 3.5, 4] });
    expect(readLesson(doc)).toEqual({
      stops: plan,
      place: { stage: 'tie', knot: 'band 1 0 2' },
      lead: { page: 'p1', name: 'Orla' },
      drawings: [{ id: 'd', stop: 'b', stroke: [1, 2, 3.5, 4] }],
    });
    writeStop(doc, stop('b', 6, { note: 'look' }));
    writeStop(doc, stop('c', 1));
    expect(readLesson(doc).stops.map(({ id, note }) => [id, note])).toEqual([
      ['a', 'ring first'],
      ['b', 'look'],
      ['c', ''],
    ]);
    removeStop(doc, 'b');
    expect(readLesson(doc)).toMatchObject({ stops: [{ id: 'a' }, { id: 'c' }], drawings: [] });
    expect(doc.getMap('drawings').size).toBe(0);
  });

  it('[D381] keeps drawings with their stop until they are dropped', () => {
    const doc = new Y.Doc();
    writePlan(doc, [stop('a', 0), stop('b', 1)]);
    for (const [id, at] of [
      ['x', 'a'],
      ['y', 'b'],
    ] as const)
      keepDrawing(doc, { id, stop: at, stroke: [0, 0, 1, 1] });
    dropDrawings(doc, 'a');
    expect(readLesson(doc).drawings.map(({ id }) => id)).toEqual(['y']);
  });

  it('[D382] reads a plan whatever stands there: what is no stop and no stroke is left out', () => {
    const doc = new Y.Doc();
    const stops = doc.getMap<unknown>('stops');
    for (const [key, value] of Object.entries({
      'a:place': 'cut 2',
      'a:minutes': -4,
      'a:waits': 'yes',
      'a:note': 'n'.repeat(9_000),
      'b:place': 'somewhere',
      ':place': 'cut 1',
      'c:order': 0,
      place: 'cut 1',
    }))
      stops.set(key, value);
    const drawings = doc.getMap<unknown>('drawings');
    for (const [key, value] of Object.entries({
      far: { stop: 'a', stroke: [1e9, 0, 1, 1] },
      odd: { stop: 'a', stroke: [1, 2, 3] },
      lost: { stop: 'b', stroke: [1, 2, 3, 4] },
      none: null,
      good: { stop: 'a', stroke: [1, 2, 3, 4] },
    }))
      drawings.set(key, value);
    doc.getMap<unknown>('step').set('place', { stage: 'cut' });
    doc.getMap<unknown>('step').set('lead', 'Orla');
    const lesson = readLesson(doc);
    expect(lesson.stops).toEqual([
      { id: 'a', place: { stage: 'cut', done: 2 }, note: 'n'.repeat(500), waits: false, minutes: null },
    ]);
    expect(lesson.drawings).toEqual([{ id: 'good', stop: 'a', stroke: [1, 2, 3, 4] }]);
    expect([lesson.place, lesson.lead]).toEqual([null, null]);
  });

  it('[D382] is the same for all who hold the same, in whatever order it came', () => {
    const [a, b] = [new Y.Doc(), new Y.Doc()];
    writePlan(a, [stop('a', 0), stop('b', 1)]);
    Y.applyUpdate(b, Y.encodeStateAsUpdate(a));
    writeStop(a, stop('c', 2, { note: 'mine' }));
    writeStop(b, stop('d', 3, { note: 'theirs' }));
    writeTeachersPlace(a, { stage: 'cut', done: 1 });
    writeTeachersPlace(b, { stage: 'cut', done: 2 });
    const [ofA, ofB] = [Y.encodeStateAsUpdate(a), Y.encodeStateAsUpdate(b)];
    Y.applyUpdate(a, ofB);
    Y.applyUpdate(b, ofA);
    expect(readLesson(a)).toEqual(readLesson(b));
    expect(readLesson(a).stops).toHaveLength(4);
  });

  it('[D384] a plan that is laid anew takes the place of all that stood there', () => {
    const doc = new Y.Doc();
    writePlan(doc, [stop('a', 0), stop('b', 1)]);
    keepDrawing(doc, { id: 'd', stop: 'a', stroke: [0, 0, 1, 1] });
    writePlan(
      doc,
      Array.from({ length: 150 }, (_, i) => stop(`s${i}`, i)),
    );
    expect(readLesson(doc).stops.map(({ id }) => id)).toEqual(Array.from({ length: 100 }, (_, i) => `s${i}`));
    expect(doc.getMap('stops').has('a:place')).toBe(false);
    expect(doc.getMap('drawings').size).toBe(0);
  });
});
