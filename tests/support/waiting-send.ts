/** What a maker has said and the page has not sent yet. */

export const MARA = { id: 'me', name: 'Mara', hex: '#336699' };

export const ON_BOARD = { kind: 'board' } as const;

/** The sending with this number, of a new remark on the board. */
export const waitingSend = (n: number, text = `say ${n}`) => ({
  id: String(n).padStart(16, '0'),
  by: MARA,
  command: { kind: 'open-thread', pin: ON_BOARD, text } as const,
});
