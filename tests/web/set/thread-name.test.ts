/** What is said beside the name of a thread. */
import { nothing } from 'lit';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Board, planBoard } from '../../../engine/index.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { threadName } from '../../../web/set/thread-name.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { elementWith } from '../../support/template-elements.ts';
import { wordsOf } from '../../support/template-text.ts';

beforeAll(() => loadTexts('set'));

const found = (of: Board) => ({ kind: 'found', plan: planBoard(of) });

/** What is said beside green in the first of these colourways, each a name and a hex for it. */
function asked(looks: readonly (readonly [name: string, hex: string])[]) {
  const colourways = looks.map(([name, hex], i) => ({
    id: `w${i}`,
    name: `way ${i}`,
    colours: [{ id: 'g', name, hex }],
  }));
  const keychains = new Keychains().read({ ...sampleBoard(6, 4), colourways }, 'normal', found as never);
  const keychain = keychains[1]!;
  const look = keychain.looks.find(({ id }) => id === 'g')!;
  const named: string[] = [];
  return {
    shown: threadName({ look, keychain, keychains, onName: (name) => named.push(name) }),
    named,
  };
}

describe('beside the name of a thread', () => {
  it('[W971] one that bears the board’s name and looks otherwise is asked for its own, with a word at hand', () => {
    const { shown, named } = asked([['green', '#e8c98a']]);
    expect(wordsOf(shown)).toMatch(/^“green” is the board’s colour\. What is this one called\? /);
    const call = elementWith(shown, { class: 'call' });
    expect(call.words).toBe('Call it pale yellow');
    call.fire('click');
    expect(named).toEqual(['pale yellow']);
  });

  it('[W971] one without any name is asked', () => {
    expect(wordsOf(asked([['', '#e8c98a']]).shown)).toMatch(/^What is this thread called\? /);
  });

  it('[W972] the same name for another colour in another colourway is said; else there is nothing to say', () => {
    expect(
      wordsOf(
        asked([
          ['moss', '#446633'],
          ['moss', '#556633'],
        ]).shown,
      ),
    ).toMatch(/^“moss” is another colour in way 1\. /);
    for (const looks of [[['moss', '#446633']], [['green', '#22aa44']]] as const)
      expect(asked(looks).shown).toBe(nothing);
  });
});
