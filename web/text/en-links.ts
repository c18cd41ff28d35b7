/** Texts about links, roles and people, in English. */
export const enLinks = {
  'closed.roleChanged': 'What you may do on this board has changed. The page opens it again.',
} as const;
