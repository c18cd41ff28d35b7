/** What a panel beside the board is called: without a ring nothing is mounted, and there is no bar. Rule B280. */
import { isHung, type Piece } from '../../engine/index.ts';
import type { PanelId } from './panels-beside.ts';
import { t } from '../text/index.ts';

/** Needs the texts that come with every group. */
export function panelName(id: PanelId, piece: Piece): string {
  if (isHung(piece)) return t(`panels.${id}`);
  if (id === 'mounting') return t('panels.beginning');
  return t(id === 'gauge' ? 'panels.gaugeAlone' : `panels.${id}`);
}
