/** The elements of the matching set's page; those of the panels that it shows come with the panels. */
import { LbKeychain } from './lb-keychain.ts';
import { LbSetColours } from './lb-set-colours.ts';
import { LbSetEditor } from './lb-set-editor.ts';
import { LbSetPage } from './lb-set-page.ts';
import { LbSetShopping } from './lb-set-shopping.ts';

export const SET_ELEMENTS: readonly (readonly [name: string, element: CustomElementConstructor])[] = [
  ['lb-keychain', LbKeychain],
  ['lb-set-colours', LbSetColours],
  ['lb-set-editor', LbSetEditor],
  ['lb-set-shopping', LbSetShopping],
  ['lb-set-page', LbSetPage],
];
