/** One keychain of a set as a tab: its name, whose it is, and its marks. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Colourway, markColourways, planBoard } from '../../../engine/index.ts';
import { isOtherCompany, makerName, renderCard, shortMarks } from '../../../web/set/card.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { FOUR_STRINGS } from '../../support/four-strings.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { markupOf, wordsOf } from '../../support/template-text.ts';

beforeAll(() => loadTexts('set'));

describe('marks in short', () => {
  const marks = (colours: Colourway['colours']) =>
    shortMarks(markColourways(FOUR_STRINGS, [{ id: 'w', name: 'W', colours }], planBoard)[0]!).map(
      ({ kind, text }) => [kind, text],
    );

  it('[Y10] each kind is named with its number', () => {
    const look = (id: string, hex: string) => ({ id, name: id, hex });
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#0c0c10')])).toEqual([
      ['good', 'neat back'],
    ]);
    expect(marks([look('a', '#111111'), look('b', '#111111'), look('c', '#141414')])).toEqual([
      ['warn', '1 crossing'],
      ['warn', '1 pair looks alike'],
      ['note', '2 colours became one'],
    ]);
    // Some who see colours otherwise see teal and wine alike.
    expect(marks([look('a', '#1f6266'), look('b', '#e8c98a'), look('c', '#8a2d4f')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair hard to tell apart'],
    ]);
    expect(marks([look('a', '#e0bf80')])).toEqual([
      ['good', 'neat back'],
      ['warn', '1 pair looks alike'],
      ['warn', '2 colours from the board'],
    ]);
  });

  it('[B284] without a ring none speaks of mounting', () => {
    const worn = { ...FOUR_STRINGS, piece: { begin: 'stick' } as const };
    expect(shortMarks(markColourways(worn, [null], planBoard)[0]!)).toEqual([]);
  });
});

describe('a keychain as a tab', () => {
  const FAY = { id: 'her', name: 'Fay', hex: '#112233' };
  const me = { id: 'me', name: 'Kit', role: null, canEdit: true };
  const here = (person: typeof FAY) => [
    { clientId: 1, self: false, presence: { person, cursor: null, selection: null, view: null } },
  ];
  /** The board's own colours, or its colourway given to somebody. */
  function card(maker?: Colourway['maker'], options: Partial<Parameters<typeof renderCard>[1]> = {}) {
    const board = sampleBoard(6, 4);
    const colourways = board.colourways.map((one) => ({ ...one, ...(maker && { maker }) }));
    const found = (of: Parameters<typeof planBoard>[0]) => ({ kind: 'found', plan: planBoard(of) });
    const [own, second] = new Keychains().read({ ...board, colourways }, 'normal', found as never);
    const usual = { index: 3, isChosen: false, side: 'front', me, people: [], onChoose: () => {} } as const;
    const of = (keychain: typeof own) => renderCard(keychain!, { ...usual, ...options });
    return { own: of(own), second: of(second) };
  }

  it('[Y1] says what it is called and whose it is, with the colour of who is here', () => {
    expect(wordsOf(card().own)).toMatch(/^The board’s own colours the board /);
    expect(wordsOf(card().second)).toMatch(/^second nobody’s yet /);
    const hers = card({ id: 'her', name: 'F.' }, { people: here(FAY) }).second;
    expect(wordsOf(hers)).toMatch(/^second Fay’s /);
    expect(markupOf(hers)).toContain('--who: #112233');
    const away = card({ id: 'her', name: 'F.' }).second;
    expect(wordsOf(away)).toMatch(/^second F\.’s /);
    expect(markupOf(away)).not.toContain('--who');
  });

  it('[W971] says how many of its threads have no name of their own, and the board’s never', () => {
    const board = sampleBoard(6, 4);
    const way = { id: 'w', name: 'W', colours: [{ id: 'g', name: 'green', hex: '#112233' }] };
    const found = (of: Parameters<typeof planBoard>[0]) => ({ kind: 'found', plan: planBoard(of) });
    const [own, w] = new Keychains().read({ ...board, colourways: [way] }, 'normal', found as never);
    const usual = { index: 0, isChosen: false, side: 'front', me, people: [], onChoose: () => {} } as const;
    expect(wordsOf(renderCard(w!, usual))).toContain('1 thread without a name');
    expect(wordsOf(renderCard(own!, usual))).not.toContain('without a name');
  });

  it('[W970] what somebody has open makes the company another; where they are on the board does not', () => {
    const [fay] = here(FAY);
    const seen = { ...fay!, presence: { ...fay!.presence, view: { fromRow: 0, toRow: 3 } } };
    const open = { kind: 'colourway', id: 'w' } as const;
    const opened = { ...fay!, presence: { ...fay!.presence, open } };
    expect(isOtherCompany([seen], [fay!])).toBe(false);
    expect(isOtherCompany([opened], [fay!])).toBe(true);
  });

  it('[Y1] one’s own is marked as such, another’s and the board’s are not', () => {
    const isMarked = (template: unknown): boolean => / mine"/.test(markupOf(template));
    const mine = card({ id: 'me', name: 'Kit' });
    expect([isMarked(mine.second), isMarked(mine.own)]).toEqual([true, false]);
    expect(isMarked(card({ id: 'her', name: 'Fay' }).second)).toBe(false);
  });

  it('[Y1] the chosen one alone is a stop of the keyboard, and a press chooses', () => {
    let chosen = 0;
    const onChoose = (): void => {
      chosen++;
    };
    const [one, other] = [true, false].map((isChosen) => card(undefined, { isChosen, onChoose }).second);
    expect([markupOf(one), markupOf(other)]).toEqual([
      expect.stringContaining('tabindex=0'),
      expect.stringContaining('tabindex=-1'),
    ]);
    (other!.values.find((value) => typeof value === 'function') as () => void)();
    expect(chosen).toBe(1);
  });

  it('[Y1] somebody without a name, here or not, is said to have none', () => {
    const of = (name: string): Colourway => ({ id: 'w', name: 'W', colours: [], maker: { id: 'her', name } });
    expect(makerName(of('Fay'), here({ ...FAY, name: '' }))).toBe('Fay');
    expect(makerName(of(''), here({ ...FAY, name: '' }))).toBe('without a name');
    expect(makerName({ id: 'w', name: 'W', colours: [] }, here(FAY))).toBeNull();
  });

  it('[B120] that its plan is looked for is said in place of how it mounts', () => {
    const marks = markColourways(sampleBoard(), [{ id: 'w', name: 'W', colours: [] }], () => null)[0]!;
    expect(shortMarks(marks)[0]).toEqual({ kind: 'note', text: 'working it out …' });
  });
});
