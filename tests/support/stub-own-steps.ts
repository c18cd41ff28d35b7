/** Stands in for what keeps a person's steps. */
export class StubOwnSteps {
  static readonly made: StubOwnSteps[] = [];
  isEnded = false;
  readonly session: unknown;
  constructor(_host: unknown, session: unknown) {
    this.session = session;
    StubOwnSteps.made.push(this);
  }
  async begin(): Promise<void> {}
  end(): void {
    this.isEnded = true;
  }
}
