/** A keychain under way, as a test wants it. */
import { AS_BOARD } from '../../engine/index.ts';
import type { Keychain } from '../../web/table/keychain-shelf.ts';

export const keychain = (id: string, more: Partial<Keychain> = {}): Keychain => ({
  id,
  name: `For ${id}`,
  begunAt: 1,
  colourway: null,
  stage: 'cut',
  method: 'rows',
  size: 'knot',
  firstHalf: 'left',
  view: 'same',
  batch: '',
  isMiddle: false,
  isCompared: false,
  cut: [],
  mounted: 0,
  finished: [],
  tied: new Set(),
  declined: '',
  own: AS_BOARD,
  marks: [],
  ...more,
});
