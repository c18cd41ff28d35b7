/** A design whose steps can be undone, and on which all commands can be run, from the start. */
import type * as Y from 'yjs';
import { BareDesign, type DesignOptions } from './design.ts';
import { UNDO_KIT } from './journal/index.ts';
import { LATER_COMMANDS } from './later-commands.ts';

/** As {@link BareDesign}, with what undo and all commands need. */
export class Design extends BareDesign {
  constructor(doc: Y.Doc, options: DesignOptions) {
    super(doc, options);
    this.giveUndo(UNDO_KIT);
    this.giveCommands(LATER_COMMANDS);
  }
}
