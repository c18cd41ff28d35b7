/** German of what stands there before the page itself does. */
import type { enSight } from '../en/sight.ts';

export const deSight: Readonly<Record<keyof typeof enSight, string>> = {
  'sight.board': 'Das Brett wird geöffnet …',
  'sight.page': 'Larkboard wird geöffnet …',
};
