/** The tool bar, the strip of colours and the choice of looks: what stands there, what is on, what can be done, and what each does. */
import { describe, expect, it } from 'vitest';
import type { Board } from '../../../engine/index.ts';
import type { Look } from '../../../web/board/board-action.ts';
import { NO_OWN_KEYS, ownKeys } from '../../../web/board/own-keys.ts';
import {
  type ColourStripOptions,
  colourStrip,
  secondLook,
  toolBar,
  viewControls,
} from '../../../web/board/tool-bar.ts';
import { boardHost, untiedBoard } from '../../support/board-host.ts';
import { elementsOf, elementWith, type TemplateElement } from '../../support/template-elements.ts';

type Host = ReturnType<typeof boardHost>['host'];

const tool = (host: Host, id: string): TemplateElement => elementWith(toolBar(host), { 'data-action': id });
const isOff = ({ attributes }: TemplateElement): boolean => 'disabled' in attributes;
const buttons = (template: unknown): readonly TemplateElement[] =>
  elementsOf(template).filter(({ tag }) => tag === 'button');

describe('the tool bar', () => {
  it('every button has a name, which is said with its key where it is pointed at', () => {
    const { host } = boardHost();
    for (const template of [toolBar(host), viewControls(host)])
      for (const { attributes, words } of buttons(template))
        expect(attributes['aria-label'] ?? words, JSON.stringify(attributes)).toMatch(/\w{3}/);
    expect(tool(host, 'knot-1').attributes.title).toBe(
      `${tool(host, 'knot-1').attributes['aria-label']} (1)`,
    );
    expect(tool(host, 'mirror').attributes.title).toMatch(/ \(M\)$/);
  });

  it('[B270] [B272] each tool shows its key, which is not spoken, while it has one', () => {
    const { host } = boardHost();
    const shown = (): readonly string[] =>
      buttons(toolBar(host)).flatMap(({ attributes }) => attributes['data-key'] ?? []);
    expect(shown().join(' ')).toBe('1 2 3 4 0 5 K L F M B S D W ?');
    ownKeys.set({ keys: { mirror: 'Q' }, hasSingles: true });
    expect([shown()[9], tool(host, 'mirror').attributes.title?.slice(-4)]).toEqual(['Q', ' (Q)']);
    ownKeys.set({ keys: {}, hasSingles: false });
    expect([shown(), tool(host, 'mirror').attributes.title?.includes('(')]).toEqual([[], false]);
    ownKeys.set(NO_OWN_KEYS);
  });

  it('the knot and the tool that are chosen are pressed, and no other; what is no state is not', () => {
    const { host, editor } = boardHost();
    const pressed = (): readonly string[] =>
      buttons(toolBar(host))
        .filter(({ attributes }) => attributes['aria-pressed'] === 'true')
        .map(({ attributes }) => attributes['data-action']!);
    editor.chooseKnot(3);
    editor.choose('line');
    expect(pressed()).toEqual(['knot-3', 'tool-line']);
    tool(host, 'knot-2').fire('click');
    tool(host, 'tool-pan').fire('click');
    tool(host, 'mirror').fire('click');
    expect(pressed()).toEqual(['knot-2', 'mirror', 'tool-pan']);
    expect(tool(host, 'commands').attributes).not.toHaveProperty('aria-pressed');
    tool(host, 'show').fire('click');
    expect(pressed()).toContain('show');
  });

  it('the folded ones are behind a button that shows the tool in hand', () => {
    const { host, editor } = boardHost();
    const more = (): string =>
      JSON.stringify(
        elementsOf(toolBar(host))
          .slice(
            elementsOf(toolBar(host)).findIndex(({ attributes }) => attributes.popovertarget === 'tools'),
          )
          .slice(1, 4)
          .map(({ tag, attributes }) => [tag, attributes.d]),
      );
    const before = more();
    editor.choose('fill');
    expect(more()).not.toBe(before);
    expect(elementWith(toolBar(host), { id: 'tools' }).attributes).toHaveProperty('popover');
  });

  it('who only looks can choose what changes nothing', () => {
    const { host } = boardHost(undefined, { canEdit: false });
    const off = buttons(toolBar(host))
      .filter(isOff)
      .map(({ attributes }) => attributes['data-action']);
    expect(off).toEqual([
      'knot-1',
      'knot-2',
      'knot-3',
      'knot-4',
      'knot-0',
      'show',
      'tool-tie',
      'tool-line',
      'tool-fill',
      'mirror',
    ]);
    for (const id of ['tool-select', 'tool-trace', 'tool-pick', 'tool-pan', 'commands', 'shortcuts'])
      expect([id, isOff(tool(host, id))]).toEqual([id, false]);
  });

  it('help opens what it names', () => {
    const { host, asked } = boardHost();
    tool(host, 'commands').fire('click');
    tool(host, 'shortcuts').fire('click');
    expect(asked).toEqual(['commands', 'shortcuts']);
  });
});

describe('the strip of colours', () => {
  const strip = (host: Host, options: Partial<ColourStripOptions> = {}) =>
    colourStrip(host, { isSwapping: false, onColour: () => {}, ...options });
  const swatches = (template: unknown): readonly TemplateElement[] =>
    buttons(template).filter(({ attributes }) => attributes.class === 'swatch-button');

  it('has a swatch for each colour of the palette, named and painted as there, the one in hand pressed', () => {
    const { host, editor } = boardHost();
    editor.chooseColour('g');
    const template = strip(host);
    expect(
      swatches(template).map(({ attributes }) => [
        attributes.title,
        attributes['aria-pressed'],
        isOffOf(attributes),
      ]),
    ).toEqual([
      ['red', 'false', false],
      ['green', 'true', false],
      ['blue', 'false', false],
    ]);
    expect(
      elementsOf(template)
        .filter(({ tag, attributes }) => tag === 'span' && attributes.style?.startsWith('background'))
        .map(({ attributes }) => attributes.style),
    ).toEqual(['background:#cc2222', 'background:#22aa44', 'background:#2244cc']);
    for (const { attributes } of swatches(template))
      expect(attributes['aria-label']).toContain(attributes.title);
  });
  const isOffOf = (attributes: TemplateElement['attributes']): boolean => 'disabled' in attributes;

  it('a colour without a name is called by its id', () => {
    const board = untiedBoard();
    const palette = board.palette.map((colour) => ({ ...colour, name: '' }));
    const { host } = boardHost({ ...board, palette });
    expect(swatches(strip(host)).map(({ attributes }) => attributes.title)).toEqual(['r', 'g', 'b']);
  });

  it('tells which swatch was chosen', () => {
    const chosen: string[] = [];
    const { host } = boardHost();
    const template = strip(host, { onColour: (id) => chosen.push(id) });
    swatches(template)[2]!.fire('click');
    swatches(template)[0]!.fire('click');
    expect(chosen).toEqual(['b', 'r']);
  });

  it('who only looks changes no colour', () => {
    const { host } = boardHost(undefined, { canEdit: false });
    expect(buttons(strip(host)).filter((one) => !isOff(one) && one.attributes.class !== 'panels')).toEqual(
      [],
    );
  });

  it('two colours are exchanged where there are two; Escape gives it up, and no other key', () => {
    const { host, asked } = boardHost();
    const swap = (template: unknown): TemplateElement => elementWith(template, { 'data-action': 'swap' });
    expect([swap(strip(host)).attributes['aria-pressed'], isOff(swap(strip(host)))]).toEqual([
      'false',
      false,
    ]);
    swap(strip(host)).fire('click');
    expect(asked).toEqual(['swap']);
    const group = (isSwapping: boolean): TemplateElement =>
      elementWith(strip(host, { isSwapping }), { class: 'colours' });
    group(false).fire('keydown', { key: 'Escape' });
    group(true).fire('keydown', { key: 'Enter' });
    expect(asked).toHaveLength(1);
    group(true).fire('keydown', { key: 'Escape' });
    expect(asked).toHaveLength(2);
    expect(swap(strip(host, { isSwapping: true })).attributes['aria-pressed']).toBe('true');
    const board = untiedBoard();
    const one: Board = {
      ...board,
      colourways: [],
      palette: board.palette.slice(0, 1),
      pattern: { ...board.pattern, colours: board.pattern.colours.map(() => 'r') },
    };
    expect(isOff(swap(strip(boardHost(one).host)))).toBe(true);
  });

  it('what becomes of the places is asked while a colour is tied, and only then', () => {
    const { host, editor } = boardHost();
    const selects = () => elementsOf(strip(host)).filter(({ tag }) => tag === 'select');
    editor.chooseKnot(1);
    expect(selects()).toEqual([]);
    editor.chooseShowing('keep');
    const options = (): readonly (readonly [string | undefined, boolean])[] =>
      elementsOf(strip(host))
        .filter(({ tag }) => tag === 'option')
        .map(({ attributes }) => [attributes.value, 'selected' in attributes]);
    expect(options()).toEqual([
      ['as they are', false],
      ['keep', true],
      ['change', false],
    ]);
    selects()[0]!.fire('change', { target: { value: 'change' } });
    expect([editor.places, options()[2]]).toEqual(['change', ['change', true]]);
  });
});

describe('looks', () => {
  const hostOf = (look: Look, isBeside = false, besideLook: Look = 'finished') => {
    const { host, asked } = boardHost();
    return { host: Object.assign(host, { look, isBeside, besideLook }), asked };
  };

  it('[B89] what stands beside a look is never the same again, and nothing beside the finished band', () => {
    const beside = (...of: Parameters<typeof hostOf>): Look | null => secondLook(hostOf(...of).host);
    expect([beside('chart'), beside('chart', false, 'paths')]).toEqual([null, null]);
    expect([beside('chart', true), beside('chart', true, 'paths'), beside('chart', true, 'chart')]).toEqual([
      'finished',
      'paths',
      'finished',
    ]);
    expect([beside('paths', true, 'paths'), beside('paths', true, 'chart')]).toEqual(['finished', 'chart']);
    expect(beside('finished', true, 'chart')).toBeNull();
  });

  it('the one that is seen is pressed; each is one click away', () => {
    const { host, asked } = hostOf('paths');
    const looks = ['look-chart', 'look-paths', 'look-finished'].map((id) =>
      elementWith(viewControls(host), { 'data-action': id }),
    );
    expect(looks.map(({ attributes }) => attributes['aria-pressed'])).toEqual(['false', 'true', 'false']);
    expect(looks.map(({ words }) => words)).toEqual(['Chart', 'Paths', 'Finished']);
    looks[2]!.fire('click');
    expect(asked).toEqual(['look "finished"']);
  });

  it('[B89] which one stands beside is chosen among the others, where one does', () => {
    const selects = (...of: Parameters<typeof hostOf>) =>
      elementsOf(viewControls(hostOf(...of).host)).filter(({ tag }) => tag === 'select');
    expect([selects('chart').length, selects('finished', true).length]).toEqual([0, 0]);
    const { host, asked } = hostOf('chart', true, 'paths');
    const options = elementsOf(viewControls(host)).filter(({ tag }) => tag === 'option');
    expect(options.map(({ attributes, properties }) => [attributes.value, properties.selected])).toEqual([
      ['finished', false],
      ['paths', true],
    ]);
    elementWith(viewControls(host), { class: 'places' }).fire('change', { target: { value: 'finished' } });
    expect(asked).toEqual(['beside true "finished"']);
  });

  it('zooms and fits', () => {
    const { host, asked } = hostOf('chart');
    for (const id of ['zoom-out', 'fit', 'zoom-in'])
      elementWith(viewControls(host), { 'data-action': id }).fire('click');
    expect(asked).toEqual(['zoom 0.8', 'fit "all"', 'zoom 1.25']);
  });
});
