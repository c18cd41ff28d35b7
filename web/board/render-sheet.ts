/** The sheets that lie over the board; their elements are fetched when the first is opened. */
import { html, type TemplateResult } from 'lit';
import type { ActionHost } from './board-action.ts';
import type { PixelPoint } from './viewport.ts';

/** What lies over the board, one at a time. */
export type Sheet = 'shortcuts' | 'menu';

export function renderSheet(
  sheet: Sheet,
  host: ActionHost,
  at: PixelPoint,
  close: () => void,
): TemplateResult {
  switch (sheet) {
    case 'shortcuts':
      return html`<lb-shortcut-sheet @lb-close=${close}></lb-shortcut-sheet>`;
    case 'menu':
      return html`<lb-board-menu .host=${host} .at=${at} @lb-close=${close}></lb-board-menu>`;
  }
}
