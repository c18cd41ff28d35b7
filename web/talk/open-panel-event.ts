import type { EntryPlace } from '../../engine/document/index.ts';
import type { PanelId } from '../board/index.ts';

/** What a thread is about is to be opened: a panel. */
export class OpenPanelEvent extends Event {
  readonly panel: PanelId;
  /** The entry of it that is to be shown; null = the panel. */
  readonly entry: EntryPlace | null;

  constructor(panel: PanelId, entry: EntryPlace | null = null) {
    super('lb-open-panel', { bubbles: true, composed: true });
    this.panel = panel;
    this.entry = entry;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-open-panel': OpenPanelEvent;
  }
}
