/** What is to be looked at in one colourway, in whole sentences. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, planBoard } from '../../../engine/index.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { renderMarks } from '../../../web/set/tell-marks.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { FOUR_STRINGS } from '../../support/four-strings.ts';
import { stubPage } from '../../support/page-globals.ts';
import { wordsOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('set'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

function said(
  hexes: Readonly<Record<string, string>>,
  stateOf?: () => object,
  piece: Board['piece'] = {},
): string {
  const colours = Object.entries(hexes).map(([id, hex]) => ({ id, name: `${id}-thread`, hex }));
  const dressed: Board = { ...FOUR_STRINGS, piece, colourways: [{ id: 'w', name: 'W', colours }] };
  const known = (of: Board) => ({ kind: 'found', plan: planBoard(of) });
  return wordsOf(renderMarks(new Keychains().read(dressed, 'normal', (stateOf ?? known) as never)[1]!));
}
const WHOLE = { a: '#1f6266', b: '#e8c98a', c: '#0c0c10' };

describe('[Y10] what is to be looked at', () => {
  it('nothing, where it mounts neat and the colours can be told apart', () => {
    expect(said(WHOLE)).toMatch(/^✓ Mounts with a neat back, and the colours can be told apart/);
  });

  it('[B284] without a ring nothing of how it mounts, and colours that became one are only told', () => {
    expect(said(WHOLE, undefined, { begin: 'loose' })).toBe(
      '✓ The colours can be told apart in every sight.',
    );
    const sentences = said({ a: '#111111', b: '#111111', c: '#141414' }, undefined, { begin: 'loop' });
    expect(sentences).toContain('a-thread, b-thread are one thread here.');
    expect(sentences).toMatch(/look alike/);
    expect(sentences).not.toMatch(/cross|mount|fold|neat/i);
  });

  it('how it mounts, while that is being worked out', () => {
    expect(said(WHOLE, () => ({ kind: 'looking' }))).toContain('being worked out');
  });

  it('what crosses, which colours became one, and which look alike, by the names they have here', () => {
    const sentences = said({ a: '#111111', b: '#111111', c: '#141414' });
    expect(sentences).toMatch(/1 crossing; floats on the back: \w-thread/);
    expect(sentences).toMatch(/a-thread, b-thread are one thread here/);
    expect(sentences).toMatch(/look alike \(sight: usual sight/);
    expect(sentences).toMatch(/They meet (nowhere|\d+ times?)/);
  });

  it('what is hard to tell apart for some', () => {
    expect(said({ ...WHOLE, c: '#8a2d4f' })).toMatch(/hard to tell apart \(sight: without \w+/);
  });

  it('[Y9] which colours are taken from the board, as none was chosen', () => {
    expect(said({ a: '#e0bf80' })).toContain('sand, coal');
  });
});
