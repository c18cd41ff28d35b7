/** Keys of the tools: from their labels, changed by the maker, kept on the device. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { actionFor } from '../../../web/board/action-keys.ts';
import type { BoardAction } from '../../../web/board/board-action.ts';
import { actionOf, BOARD_ACTIONS } from '../../../web/board/board-actions.ts';
import { canBeGiven, given, holderOf, keepOwnKeys, writtenKeys } from '../../../web/board/give-key.ts';
import { followOwnKeys, isSingle, keysOf, NO_OWN_KEYS, ownKeys } from '../../../web/board/own-keys.ts';
import { LANGUAGES, type Language } from '../../../web/text/index.ts';
import { keyPress } from '../../support/key-press.ts';
import { stubPage } from '../../support/page-globals.ts';

const first = (id: string): string | undefined => keysOf(actionOf(id))[0];
const does = (key: string, more = {}): string | undefined => actionFor(keyPress(key, more))?.id;

beforeEach(() => {
  stubPage();
  vi.stubGlobal('addEventListener', () => {});
  vi.stubGlobal('removeEventListener', () => {});
});
afterEach(() => {
  ownKeys.set(NO_OWN_KEYS);
  vi.unstubAllGlobals();
});

describe('the keys of the list', () => {
  it('[B270] each letter begins a word of what its action is called, in every language', async () => {
    const lettered = BOARD_ACTIONS.flatMap((action) =>
      (action.keys ?? []).filter((keys) => /^[A-Z]$/.test(keys)).map((letter) => [action, letter] as const),
    );
    expect(lettered.length).toBeGreaterThan(10);
    for (const language of Object.keys(LANGUAGES) as Language[]) {
      const { first, groups } = await LANGUAGES[language].texts();
      const texts: Readonly<Record<string, string>> = { ...first, ...(await groups.sheets()) };
      for (const [{ key }, letter] of lettered)
        expect(texts[key], `${letter} in ${language}`).toMatch(new RegExp(`(^|[^\\p{L}])${letter}`, 'iu'));
    }
  });

  it('[B270] no two actions have the same keys', () => {
    const all = BOARD_ACTIONS.flatMap(({ keys = [] }) => keys);
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('own keys', () => {
  const give = (action: BoardAction, keys: string): void => keepOwnKeys(given(ownKeys.value, action, keys));

  it('[B271] another key takes the place of the first, and no other is lost', () => {
    give(actionOf('redo'), 'Ctrl+J');
    expect(keysOf(actionOf('redo'))).toEqual(['Ctrl+J', 'Ctrl+Y']);
    give(actionOf('fit-width'), 'Q');
    expect([does('q'), does('a', { shiftKey: true }), does('a')]).toEqual(['fit-width', undefined, 'fit']);
  });

  it('[B271] a key that another had is taken from it, and given back with the next', () => {
    expect(holderOf('L', actionOf('tool-tie'))?.id).toBe('tool-line');
    give(actionOf('tool-tie'), 'L');
    expect([does('l'), first('tool-line'), does('k')]).toEqual(['tool-tie', undefined, undefined]);
    give(actionOf('tool-fill'), 'L');
    expect([does('l'), first('tool-tie'), does('f')]).toEqual(['tool-fill', 'K', undefined]);
    give(actionOf('tool-fill'), 'F');
    expect([ownKeys.value, does('l')]).toEqual([NO_OWN_KEYS, 'tool-line']);
  });

  it('[B271] they are kept on the device, and nothing is where all are as they came', () => {
    give(actionOf('mirror'), 'Ctrl+Alt+M');
    const text = localStorage.getItem('larkboard.keys')!;
    ownKeys.set(NO_OWN_KEYS);
    const told: string[] = [];
    followOwnKeys(() => told.push(first('mirror')!))();
    expect(first('mirror')).toBe('Ctrl+Alt+M');
    keepOwnKeys(NO_OWN_KEYS);
    expect([localStorage.getItem('larkboard.keys'), first('mirror')]).toEqual([null, 'M']);
    localStorage.setItem('larkboard.keys', text);
    const stop = followOwnKeys(() => told.push(first('mirror')!));
    keepOwnKeys(NO_OWN_KEYS);
    stop();
    keepOwnKeys({ ...NO_OWN_KEYS, keys: { mirror: 'Q' } });
    expect(told).toEqual(['M']);
  });

  it.each(['{', 'null', '7', '{"keys":{"mirror":7,"undo":""}}', '{"keys":null,"hasSingles":"no"}'])(
    '[B271] what was kept and is no such thing counts as nothing: %s',
    (text) => {
      localStorage.setItem('larkboard.keys', text);
      followOwnKeys(() => {})();
      expect([first('mirror'), first('undo'), ownKeys.value.hasSingles]).toEqual(['M', 'Ctrl+Z', true]);
    },
  );

  it('[B271] what another tab keeps holds here too, as long as it is followed', () => {
    const page = new EventTarget();
    vi.stubGlobal('addEventListener', page.addEventListener.bind(page));
    vi.stubGlobal('removeEventListener', page.removeEventListener.bind(page));
    const told: (string | undefined)[] = [];
    const stop = followOwnKeys(() => told.push(first('mirror')));
    const keep = (key: string, mirror: string): void => {
      localStorage.setItem('larkboard.keys', JSON.stringify({ keys: { mirror } }));
      page.dispatchEvent(Object.assign(new Event('storage'), { key }));
    };
    keep('larkboard.unit', 'Q');
    expect([told, first('mirror')]).toEqual([[], 'M']);
    keep('larkboard.keys', 'Q');
    stop();
    keep('larkboard.keys', 'J');
    expect([told, first('mirror')]).toEqual([['Q'], 'Q']);
  });

  it('[B272] letters, digits and signs alone are put out of use, capitals too, and nothing else is', () => {
    keepOwnKeys({ keys: {}, hasSingles: false });
    const left = BOARD_ACTIONS.flatMap((action) => keysOf(action));
    expect(left.filter((keys) => isSingle(keys))).toEqual([]);
    for (const [key, more] of [['1'], ['k'], ['?'], ['/'], ['+'], ['m', { shiftKey: true }]] as const)
      expect([key, does(key, more)]).toEqual([key, undefined]);
    expect(left).toEqual(expect.arrayContaining(['Ctrl+Z', 'Ctrl+K', 'Delete', 'Alt+ArrowUp', 'Shift+F10']));
    expect(does('k', { ctrlKey: true })).toBe('commands');
  });
});

describe('what is pressed', () => {
  const written = (key: string, more: Parameters<typeof keyPress>[1] = {}) =>
    writtenKeys(keyPress(key, more));

  it('[B271] is written as the list writes it, so that it is found again', () => {
    expect(written('q')).toBe('Q');
    expect(written('Q', { shiftKey: true, metaKey: true })).toBe('Ctrl+Shift+Q');
    expect(written('?', { shiftKey: true })).toBe('?');
    expect(written('&', { code: 'Digit1' })).toBe('1');
    expect(written(' ', { shiftKey: true })).toBe('Shift+Space');
    expect(written('F6', { altKey: true })).toBe('Alt+F6');
    for (const key of ['Shift', 'Control', 'Alt', 'Meta', 'Dead']) expect(written(key)).toBeNull();
  });

  it('[B271] what moves about and what the clipboard has are not given away', () => {
    for (const key of ['Tab', 'Enter', 'ArrowUp', 'Home', 'PageDown', 'Escape', ' '])
      expect([key, canBeGiven(keyPress(key))]).toEqual([key, false]);
    expect(canBeGiven(keyPress('c', { ctrlKey: true }))).toBe(false);
    for (const press of [keyPress('q'), keyPress('ArrowUp', { altKey: true }), keyPress('F6')])
      expect(canBeGiven(press)).toBe(true);
  });
});
