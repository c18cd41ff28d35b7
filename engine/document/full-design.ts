/** A design whose steps can be undone from the start. */
import type * as Y from 'yjs';
import { BareDesign, type DesignOptions } from './design.ts';
import { UNDO_KIT } from './journal/index.ts';

/** As {@link BareDesign}, with what undo needs. */
export class Design extends BareDesign {
  constructor(doc: Y.Doc, options: DesignOptions) {
    super(doc, options);
    this.giveUndo(UNDO_KIT);
  }
}
