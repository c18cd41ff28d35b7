/** Where an entry of a panel shows what is said about it. */
import { html, type TemplateResult } from 'lit';
import type { EntryPlace } from '../../engine/document/index.ts';
import type { PanelId } from '../board/index.ts';

/** The mark of an entry; it stays empty until the talk is open. */
export function entryMark(panel: PanelId, at: EntryPlace): TemplateResult {
  return html`<lb-entry-mark .panel=${panel} .at=${at}></lb-entry-mark>`;
}
