/** English of what stands there before the page itself does. */
export const enSight = {
  'sight.board': 'Opening the board …',
  'sight.page': 'Opening Larkboard …',
} as const;
