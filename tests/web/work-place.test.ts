import { expect, test } from 'vitest';
import { type PlaceShelf, WorkPlace } from '../../web/panels/work-place.ts';

function shelf(): PlaceShelf & { readonly kept: Map<string, string> } {
  const kept = new Map<string, string>();
  return {
    kept,
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => {
      kept.set(key, value);
    },
  };
}

test('[B154] the place in the order of tying comes back, for each board its own', () => {
  const store = shelf();
  const place = new WorkPlace('kites', store);
  Object.assign(place, { step: 57, method: 'segments', covers: 'piece', view: 'mirrored', isLong: true });
  place.keep();
  expect(new WorkPlace('kites', store)).toMatchObject({
    step: 57,
    method: 'segments',
    covers: 'piece',
    view: 'mirrored',
    isLong: true,
  });
  expect(new WorkPlace('boats', store)).toMatchObject({ step: 0, method: 'rows', covers: 'pattern' });
});

test('[B154] what cannot be read is as if it were not kept', () => {
  for (const text of ['', '{', 'null', '7', '[]', '{"step":-1,"method":"x"}', '{"step":"9","view":3}']) {
    const store = shelf();
    store.kept.set('larkboard.work.kites.place', text);
    const place = new WorkPlace('kites', store);
    expect([text, place.step, place.method, place.view]).toEqual([text, 0, 'rows', 'plain']);
  }
});
