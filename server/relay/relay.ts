/**
 * How nodes that hold the same document tell each other. Messages may be lost; a relay that may have lost some says so,
 * and rooms then read the store again. Updates are sent only once they are in the store, so nobody
 * builds on an edit that a dying node took with it.
 */
export type RelayKind =
  | 'update'
  | 'presence'
  | 'present?'
  | 'reload'
  | 'removed'
  | 'narrowed'
  | 'renewed'
  | 'open?'
  | 'open'
  | 'pausing'
  | 'going-on'
  | 'proposals'
  | 'lesson';

/**
 * Where nodes tell each other of boards as a whole: under kind `narrowed` one on which somebody's rights became less, under kind `proposals` one
 * whose proposals are others, under kind `lesson` a lesson of which something kept is other. No document has this name.
 */
export const ACCESS_CHANNEL = 'access';

export interface RelayMessage {
  readonly kind: RelayKind;
  readonly bytes: Uint8Array;
}

export interface Relay {
  /** Whether there are other nodes at all. */
  readonly isShared: boolean;
  /** Hears a document's messages from other nodes from the moment the promise fulfils. */
  join(room: string, hear: (message: RelayMessage) => void): Promise<() => void>;
  /** Tells the other nodes. Never waits and never throws; a loss is announced by `onGap`. */
  send(room: string, message: RelayMessage): void;
  /** Calls when messages may have been lost, for one room or (null) for all. */
  onGap(listener: (room: string | null) => void): void;
  /** Whether messages pass now. */
  readonly isUp: boolean;
  close(): Promise<void>;
}

/** One machine: there is nobody to tell. */
export class LocalRelay implements Relay {
  readonly isShared = false;
  readonly isUp = true;

  async join(): Promise<() => void> {
    return () => {};
  }

  send(): void {}

  onGap(): void {}

  async close(): Promise<void> {}
}
