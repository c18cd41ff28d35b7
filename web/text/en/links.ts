/** Texts about links, roles and people, in English. */
export const enLinks = {
  'closed.roleChanged': 'What you may do on this board has changed. The page opens it again.',
  'links.share': 'Share',
  'links.dead': 'This link opens nothing: it is wrong, has ended or was taken back.',
  'links.deadButIn': 'That link opens nothing any more. You are here by another one.',
  'links.tooMany':
    'Too many links that open nothing were tried from here. Wait a minute and load the page again.',
  'links.lessNow':
    'You may only look at this board now. Changes of yours that were not saved yet are not taken.',
  'people.following': 'You follow {name}. Touch the board to go your own way.',
  'people.stop': 'Stop following',
} as const;
