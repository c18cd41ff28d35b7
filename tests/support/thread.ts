import type { Thread } from '../../engine/document/index.ts';

/** A thread about the board. @param said who said what, and whom it names; null for a remark taken back */
export const thread = (
  id: string,
  ...said: readonly (readonly [string, string | null, (readonly string[])?])[]
): Thread => ({
  id,
  pin: { kind: 'board' },
  done: null,
  remarks: said.map(([by, text, mentions = []], i) => ({
    id: `${id}${i}`,
    by: { id: by, name: by, hex: '#000000' },
    at: i,
    text,
    mentions,
  })),
});
