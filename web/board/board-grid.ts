/** The board as a screen reader and the keyboard have it: a grid, of which one cell stands for the whole. */
import { html, type TemplateResult } from 'lit';
import { keyed } from 'lit/directives/keyed.js';
import { knotsIn } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import type { ActionHost } from './board-action.ts';
import type { BoardCanvas } from './board-canvas.ts';
import type { BoardKeys } from './board-keys.ts';
import { spokenSpot } from './speech.ts';

interface GridHost extends ActionHost {
  readonly canvas: BoardCanvas | null;
  holdSpace(isHeld: boolean): void;
}

/**
 * The cell is the one that the keyboard is on. A new element for each spot, so that moving the focus to it makes a screen reader say it.
 * @param clip hears of copying, cutting and pasting
 */
export function boardGrid(
  host: GridHost,
  keys: BoardKeys,
  clip: (event: ClipboardEvent) => void,
): TemplateResult {
  const { editor } = host;
  const { spot, model } = editor;
  const isPeg = spot.on === 'peg';
  const column = isPeg ? spot.place : spot.k;
  const count = isPeg ? model.strings : knotsIn(model.stagger, spot.row);
  const row = isPeg ? 1 : spot.row + 2;
  return html`<div
    class="grid"
    role="grid"
    aria-label=${t('board.grid')}
    aria-rowcount=${model.rows + 1}
    aria-colcount=${count}
    aria-multiselectable="true"
    @keydown=${keys.down}
    @keyup=${keys.up}
    @copy=${clip}
    @cut=${clip}
    @paste=${clip}
    @focusin=${() => host.canvas?.invalidate('overlay')}
    @focusout=${() => host.holdSpace(false)}
  >
    <div role="row" aria-rowindex=${row}>
      ${keyed(
        `${row}:${column}`,
        html`<div role="gridcell" tabindex="0" aria-colindex=${column + 1} aria-selected=${editor.isSelected(editor.cursor)} aria-label=${spokenSpot(editor, host.talk)}></div>`,
      )}
    </div>
  </div>`;
}
