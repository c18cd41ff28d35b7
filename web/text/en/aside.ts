/** Texts about changes that another tab left in this browser, in English. */
export const enAside = {
  'aside.waiting':
    'This browser also keeps changes from another tab. They are added when the connection is back.',
  'aside.lookOnly':
    'Changes to “{title}” were not saved, and you may only look at this board now. This browser still holds them.',
  'aside.refused':
    'Changes to “{title}” from another tab were not taken by the server. This browser still holds them.',
  'aside.unshown':
    'This browser also holds changes from another tab that are not a board of their own. They are not part of this one, and cannot be saved as a file.',
  'gone.keychains':
    '{count} {count:keychain/keychains} of this board {count:is/are} under way on this device.',
  'gone.keepKeychains': 'Forget the copy, keep them',
  'gone.forgetKeychains': 'Forget them as well',
  'gone.seeKeychains': 'See them',
} as const;
