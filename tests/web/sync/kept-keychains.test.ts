import { expect, it } from 'vitest';
import { countKeychains, forgetKeychains } from '../../../web/sync/kept-keychains.ts';
import { KeychainShelf } from '../../../web/table/keychain-shelf.ts';
import { keychain } from '../../support/keychain.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

it('[N86] keychains of one board are counted and forgotten, with their boards; those of others stay', () => {
  const store = new MapShelf();
  const [board, other] = ['kites', 'kites2'].map((id) => new KeychainShelf(id, store)) as [
    KeychainShelf,
    KeychainShelf,
  ];
  for (const id of ['one', 'two', 'three']) board.begin(keychain(id), readBoard(LOPSIDED));
  other.begin(keychain('four'), readBoard(LOPSIDED));
  store.setItem('larkboard.role.kites', 'owner');
  expect([countKeychains('kites', store), countKeychains('kites2', store)]).toEqual([3, 1]);
  forgetKeychains('kites', store);
  expect([countKeychains('kites', store), countKeychains('kites2', store)]).toEqual([0, 1]);
  expect([...store.kept.keys()].sort()).toEqual([
    'larkboard.role.kites',
    'larkboard.table.kites2.four',
    'larkboard.table.kites2.four.board',
    'larkboard.table.kites2.four.rows',
  ]);
});
