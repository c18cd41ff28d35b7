/** The panels beside the board, as those know them who open them and do not draw them. */
import type { EntryPlace } from '../../engine/document/index.ts';
import { Subject } from '../context/index.ts';

export type PanelId =
  | 'mounting'
  | 'colours'
  | 'cutting'
  | 'cost'
  | 'gauge'
  | 'work'
  | 'symmetry'
  | 'piece'
  | 'notes'
  | 'talk'
  | 'proposals'
  | 'versions';

/** What is to be shown in the panel that is being opened. */
type Wish =
  /** An entry of it, which takes the keyboard. */
  | { readonly kind: 'entry'; readonly panel: PanelId; readonly at: EntryPlace }
  /** A thread of the talk. */
  | { readonly kind: 'thread'; readonly thread: string }
  /** What is said about the place that the talk was asked about, or the box to say something about it. */
  | { readonly kind: 'place'; readonly wants: 'say' | 'read' };

/** How far the panels are drawn over the board, where they are a sheet. */
export type SheetHeight = 'closed' | 'half' | 'full';

/** Which panel is open, and what is wanted of it: whoever has it sees to it as soon as it is there. */
export class PanelsBeside {
  readonly open = new Subject<PanelId>('mounting');
  readonly wish = new Subject<Wish | null>(null);
  readonly sheet = new Subject<SheetHeight>('closed');
  /** Proposals that wait for this person's answer. */
  readonly waiting = new Subject(0);

  show(panel: PanelId, wish: Wish | null = null): void {
    this.wish.set(null);
    this.open.set(panel);
    if (this.sheet.value === 'closed') this.sheet.set('half');
    this.wish.set(wish);
  }

  /** The wish was seen to. */
  grant(): void {
    this.wish.set(null);
  }

  /** The maker does something else: what was wanted and did not show would only take the keyboard away. */
  giveUpEntry(): void {
    if (this.wish.value?.kind === 'entry') this.wish.set(null);
  }
}
