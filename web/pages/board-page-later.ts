/** What the page of a board does only when asked, fetched then: the less comes before the board is usable. */
import type { LitElement } from 'lit';
import { type Board, parseBoard } from '../../engine/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { loadTexts, t } from '../text/index.ts';
import { explain } from '../words/index.ts';
import { ColourwayLook, tellAddress } from './colourway-look.ts';

export { saveLeft } from '../visit/index.ts';

interface Shows extends Element {
  readonly updateComplete: Promise<boolean>;
  show(): Promise<void> | void;
}

async function show(root: ParentNode, name: string): Promise<void> {
  const dialog = root.querySelector<Shows>(name);
  await dialog?.updateComplete;
  await dialog?.show();
}

/** Opens the dialog of links. Rejects with a TypeError when it cannot be fetched, as all of these do. */
export async function showShare(root: ParentNode): Promise<void> {
  const [{ LbLinksPanel }] = await Promise.all([import('../links/lb-links-panel.ts'), loadTexts('share')]);
  if (customElements.get('lb-links-panel') === undefined)
    customElements.define('lb-links-panel', LbLinksPanel);
  await show(root, 'lb-links-panel');
}

/** Opens the dialog of files and paper. */
export async function showInOut(root: ParentNode): Promise<void> {
  const [{ defineInOut }] = await Promise.all([import('../files/in-out-elements.ts'), loadTexts('paper')]);
  defineInOut();
  await show(root, 'lb-in-out');
}

/** Begins to look at a board in a colourway; null = in its own colours again. @param onChoose another one is wanted; null = the board's own colours */
export async function wearColourway(
  session: BoardSession | null,
  colourway: string | null,
  onChoose: (colourway: string | null) => unknown,
): Promise<ColourwayLook | null> {
  await loadTexts('panels');
  tellAddress(colourway);
  if (session === null || colourway === null) return null;
  return new ColourwayLook(session, colourway, onChoose);
}

/** The board in a file that was dropped, or the sentence that says why there is none. */
export async function readDropped(file: File): Promise<Board | string> {
  if (/\.zip$/i.test(file.name)) return t('drop.archive');
  const parsed = parseBoard(await file.text());
  return parsed.ok ? parsed.value : t('start.badFile', { why: await explain(parsed.error) });
}

/** The copying of demo boards. */
export async function makeDemoCopy(): Promise<typeof import('./demo-copy.ts')> {
  const [demo] = await Promise.all([import('./demo-copy.ts'), loadTexts('panels')]);
  return demo;
}

/** Registers the first steps. */
export async function defineFirstSteps(): Promise<void> {
  const [{ LbFirstSteps }] = await Promise.all([import('./lb-first-steps.ts'), loadTexts('help')]);
  if (customElements.get('lb-first-steps') === undefined)
    customElements.define('lb-first-steps', LbFirstSteps);
}

/** Begins to show the proposals of a board on its page. */
export async function showProposals(page: LitElement): Promise<void> {
  await (await import('../proposals/proposal-elements.ts')).startProposals(page);
}
