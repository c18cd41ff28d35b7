/** What the server may answer instead of doing what it was asked: one list for the server, which may say no other, and for the texts. */

/** Each kind, with the names of the values that its sentence is filled in with. */
export const PROBLEM_KINDS = {
  // Of the server itself.
  internal: [],
  busy: [],
  'not-ready': [],
  'not-found': [],
  'no-page': [],
  'other-origin': [],
  'store-full': [],
  'store-read-only': [],
  'store-locked': [],
  'store-damaged': [],
  'store-unavailable': [],
  'store-unknown-board': [],
  'store-outdated': [],
  'store-closed': [],
  // Of who asks.
  'unknown-board': [],
  forbidden: [],
  revoked: [],
  'too-fast': [],
  'too-many-tries': [],
  'too-many-boards': [],
  'too-much-written': [],
  'too-many-newcomers': [],
  'demo-board': [],
  branch: [],
  'not-you': [],
  // Of what was sent.
  'too-large': ['mostBytes'],
  'not-json': [],
  'not-an-object': [],
  'missing-field': [],
  'unknown-field': [],
  'wrong-type': [],
  'out-of-range': [],
  'bad-name': ['most'],
  // Of a board file.
  'not-a-board': [],
  'unknown-version': [],
  'duplicate-id': [],
  'unknown-colour': [],
  'unknown-knot': [],
  'wrong-count': [],
  'empty-document': [],
  'newer-version': [],
  // Of links.
  'unknown-link': [],
  'unknown-role': [],
  'bad-end': [],
  'last-owner': [],
  'fixed-field': [],
  'too-many-links': ['most'],
  // Of the talk.
  'unknown-kind': [],
  'unknown-pin': [],
  'unknown-thread': [],
  'unknown-remark': [],
  'not-yours': [],
  limit: [],
  full: [],
  // Of proposals.
  'unknown-proposal': [],
  'empty-board': [],
  'too-many-proposals': ['most'],
  'too-many-own-proposals': ['most'],
  'proposal-closed': [],
  'proposal-moved': [],
  'proposal-changed': [],
  // Of versions.
  'no-such-version': [],
  'no-such-visit': [],
  'bad-version': [],
  'too-many-versions': ['most', 'mostBytes'],
  // Of lessons.
  'too-many-lessons': [],
  'lesson-over': [],
  'lesson-locked': [],
  'lesson-full': [],
  // Of archives.
  'not-an-archive': [],
  damaged: [],
  'newer-archive': [],
} as const;

/** A kind of {@link PROBLEM_KINDS}. */
export type ProblemKind = keyof typeof PROBLEM_KINDS;
/** A kind whose sentence stands by itself. */
export type PlainProblemKind = {
  [K in ProblemKind]: (typeof PROBLEM_KINDS)[K] extends readonly [] ? K : never;
}[ProblemKind];
/** Any other kind, with what its sentence needs. */
export type ValuedProblem = {
  [K in Exclude<ProblemKind, PlainProblemKind>]: {
    readonly kind: K;
    readonly values: Readonly<Record<(typeof PROBLEM_KINDS)[K][number], number>>;
  };
}[Exclude<ProblemKind, PlainProblemKind>];
