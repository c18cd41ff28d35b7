/** Which side of a finished band is looked at. */
import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';
import type { BandSide } from './draw-finished.ts';

const SIDES: readonly BandSide[] = ['front', 'back'];

/** A button for each side, the shown one pressed. */
export function sideButtons(shown: BandSide, onSide: (side: BandSide) => void): readonly TemplateResult[] {
  return SIDES.map(
    (side) =>
      html`<button aria-pressed=${side === shown} @click=${() => onSide(side)}>${t(`board.side.${side}`)}</button>`,
  );
}
