/** Somebody wants to see what differs in a proposal. */
export class ReviewEvent extends Event {
  readonly proposal: string;

  constructor(proposal: string) {
    super('lb-review', { bubbles: true, composed: true });
    this.proposal = proposal;
  }
}

/** Somebody wants to see the list of proposals. */
export class ProposalsEvent extends Event {
  constructor() {
    super('lb-proposals', { bubbles: true, composed: true });
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-review': ReviewEvent;
    'lb-proposals': ProposalsEvent;
  }
}
