/** A line of the list of commands. */
export interface Command {
  readonly id: string;
  readonly name: string;
  /** Other words by which it is looked for. */
  readonly words: string;
  /** Heading under which it stands; lines of one group follow each other. */
  readonly group: string;
  readonly key?: string | undefined;
  /** Why it cannot be done now; null = it can. */
  readonly why: string | null;
  readonly run: () => unknown;
}
