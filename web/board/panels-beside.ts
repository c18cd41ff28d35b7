/** The panels beside the board, as those know them who open them and do not draw them. */
import type { LitElement } from 'lit';

export type PanelId =
  | 'mounting'
  | 'colours'
  | 'cutting'
  | 'gauge'
  | 'work'
  | 'symmetry'
  | 'piece'
  | 'notes'
  | 'talk'
  | 'proposals'
  | 'versions';

/** The element that holds them, one at a time. */
export interface PanelsBeside extends LitElement {
  /** The panel that is open. */
  open: PanelId;
  /** Proposals that wait for this person's answer. */
  waiting: number;
  /** Fulfils when a panel is there, and shown if it is the one that is open. */
  isLoaded(id: PanelId): Promise<void>;
}

declare global {
  interface HTMLElementTagNameMap {
    'lb-panels': PanelsBeside;
  }
}
