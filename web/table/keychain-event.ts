import type { Keychain } from './keychain-shelf.ts';

/** What a stage of making changes of the keychain under way. */
export class KeychainEvent extends Event {
  readonly patch: Partial<Keychain>;

  constructor(patch: Partial<Keychain>) {
    super('lb-keychain', { bubbles: true, composed: true });
    this.patch = patch;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-keychain': KeychainEvent;
  }
}
