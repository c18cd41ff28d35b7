/** Pegs that are taken hold of: where they go, what goes with them, and what others do meanwhile. */
import { describe, expect, it } from 'vitest';
import { hang, movePeg, movePegHere, PegStroke } from '../../../web/board/peg-hand.ts';
import { boardHost } from '../../support/board-host.ts';
import { joinDesign, runAll, stringsOf, syncAll } from '../../support/open-design.ts';

function pegs(options: Parameters<typeof boardHost>[1] = {}) {
  const made = boardHost(undefined, options);
  const told: (string | null)[] = [];
  const host = {
    editor: made.editor,
    say: () => {},
    tellColour: (colour: string | null) => told.push(colour),
  };
  return { ...made, host, told, strings: () => stringsOf(made.design) };
}

describe('a peg in hand', () => {
  it('[B386] where tying is mirrored about the middle the peg beside it does the same, and neither goes over it', () => {
    const { editor, strings, design } = pegs();
    editor.setMirror({ upright: 'middle', level: null });
    expect([movePeg(editor, 0, 1), strings()]).toEqual([1, 'grbrbg']);
    expect([movePeg(editor, 1, 5), strings()]).toEqual([2, 'gbrbrg']);
    expect([movePeg(editor, 5, 0), strings()]).toEqual([3, 'brggbr']);
    expect(movePeg(editor, 3, 3)).toBe(3);
    editor.chooseColour('b');
    editor.recolour(1);
    expect(strings()).toBe('bbggbr');
    design.undo();
    expect(strings()).toBe('brggbr');
  });

  it('[B386] beside an axis elsewhere only pegs that have one beside them are two', () => {
    const { editor, strings } = pegs();
    editor.setMirror({ upright: 1.5, level: null });
    editor.chooseColour('b');
    editor.recolour(0);
    editor.recolour(4);
    expect(strings()).toBe('bgbbbb');
  });

  it('[B385] by key it goes place by place and stops at the edge; who may only look moves nothing', () => {
    const { editor, host, strings } = pegs();
    editor.moveTo({ on: 'peg', place: 4 });
    movePegHere(host, 1);
    movePegHere(host, 1);
    expect([strings(), editor.spot]).toEqual(['rgbrbg', { on: 'peg', place: 5 }]);
    editor.moveTo({ on: 'knot', row: 0, k: 0 });
    movePegHere(host, 1);
    expect(strings()).toBe('rgbrbg');
    const onlooker = pegs({ canEdit: false });
    expect([movePeg(onlooker.editor, 0, 3), onlooker.strings()]).toEqual([0, 'rgbrgb']);
    const stroke = new PegStroke(onlooker.host, 0);
    stroke.drag(3);
    stroke.end();
    expect(onlooker.strings()).toBe('rgbrgb');
  });

  it('[B385] one that is only tapped takes the colour in hand, with the tool for blocks too; without a colour it is said', () => {
    const { editor, host, news, strings } = pegs();
    new PegStroke(host, 0).end();
    expect([news.at(-1)?.kind, strings()]).toEqual(['choose-a-colour', 'rgbrgb']);
    editor.choose('select');
    editor.chooseColour('b');
    new PegStroke(host, 0).end();
    expect(strings()).toBe('bgbrgb');
    const moved = new PegStroke(host, 0);
    moved.drag(1);
    moved.end();
    expect(strings()).toBe('gbbrgb');
  });

  it('[B385] what others did meanwhile stays, and strings they put in end it', () => {
    const { editor, host, strings, design } = pegs();
    const friend = joinDesign(design, 'f');
    const stroke = new PegStroke(host, 0);
    stroke.drag(2);
    runAll(friend, { kind: 'recolour-strings', strings: [5], colour: 'g' });
    syncAll(design, friend);
    stroke.drag(3);
    expect(strings()).toBe('gbrrgg');
    runAll(friend, { kind: 'insert-string-pairs', at: 0, count: 1 });
    syncAll(design, friend);
    const between = strings();
    stroke.drag(7);
    stroke.end(true);
    expect(between).toHaveLength(8);
    expect(strings().slice(2)).toBe('rgbrgg');
    expect(editor.isInStroke).toBe(false);
  });

  it('[B386] many at once are one step of undo', () => {
    const { editor, strings, design } = pegs();
    expect(hang(editor, ['b', 'b', 'g', 'g', 'r', 'r'])).toBe(true);
    expect(strings()).toBe('bbggrr');
    design.undo();
    expect([strings(), design.canUndo]).toEqual(['rgbrgb', false]);
  });
});
