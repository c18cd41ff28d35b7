/** HTTP of proposals, under `/api/boards/:id/proposals`. Every request is asked for anew, by its cookie. */
import { type Context, Hono } from 'hono';
import { canManage, canPropose, LIMITS, type PlainProblemKind } from '../../engine/document/index.ts';
import { plainText } from '../../engine/index.ts';
import type { Fields } from '../body-fields.ts';
import { HttpProblem, limitBody, noteStored, readFields } from '../http/index.ts';
import { isLive, MAX_OPEN, MAX_OPEN_OF_ONE, MAX_TITLE, MAX_WORD, type Proposal } from './proposal.ts';
import type { Proposals, Refusal } from './proposals.ts';

/** Who asks, as far as proposals go by it. */
interface ProposalStanding {
  readonly personId: string;
  readonly role: Parameters<typeof canManage>[0];
  readonly branchOf: string | null;
}

export interface ProposalRoutesDeps {
  readonly proposals: Proposals;
  /** What the asker may be on the board now; null when it is not there for them. */
  readonly standingOf: (c: Context, board: string) => Promise<ProposalStanding | null>;
}

/** Titles and words are far below. */
const BODY_BYTES = 16_384;

/** What everybody on the board sees of a proposal. Persons' ids stay out: they are nobody's business but the presence's. */
function showProposal(proposal: Proposal, { personId }: ProposalStanding): Record<string, unknown> {
  const { proposer, ...shown } = proposal;
  return { ...shown, isMine: proposer === personId };
}

function problem(
  status: 403 | 404 | 409 | 422,
  kind: PlainProblemKind,
  message: string,
  path?: string,
): never {
  throw new HttpProblem(status, { kind, message, ...(path === undefined ? {} : { path }) });
}

function refuse(refusal: Refusal): never {
  switch (refusal) {
    case 'unknown':
      return problem(404, 'unknown-proposal', 'the board has no such proposal', 'proposal');
    case 'empty':
      return problem(409, 'empty-board', 'there is nothing on the board to start from');
    case 'too-many':
      throw new HttpProblem(409, {
        kind: 'too-many-proposals',
        message: `a board has at most ${MAX_OPEN} proposals at once`,
        values: { most: MAX_OPEN },
      });
    case 'too-many-of-one':
      throw new HttpProblem(409, {
        kind: 'too-many-own-proposals',
        message: `${MAX_OPEN_OF_ONE} proposals at once are the most`,
        values: { most: MAX_OPEN_OF_ONE },
      });
    case 'closed':
      return problem(409, 'proposal-closed', 'the proposal was answered or withdrawn already');
    case 'moved':
      return problem(409, 'proposal-moved', 'the proposal was changed since it was looked at');
    case 'changed':
      return problem(409, 'proposal-changed', 'somebody else changed the proposal just now');
  }
}

function readText(fields: Fields, name: string, most: number, least = 0): string {
  const value = fields[name] ?? '';
  if (typeof value !== 'string' || value.length > most || value.trim().length < least)
    return problem(422, 'wrong-type', `${name} must be text of ${least} to ${most} characters`, name);
  if (plainText(value) !== value) return problem(422, 'wrong-type', `${name} must be plain text`, name);
  return value.trim();
}

/** The sub-app; mount under `/api/boards/:id/proposals`. */
export function proposalRoutes({ proposals, standingOf }: ProposalRoutesDeps): Hono {
  const app = new Hono();
  const limit = limitBody('the body', BODY_BYTES);

  const admit = async (c: Context): Promise<{ board: string; asker: ProposalStanding }> => {
    const board = c.req.param('id') ?? '';
    const asker = await standingOf(c, board);
    if (asker === null) return problem(404, 'unknown-board', 'no such board, or no link to it', 'id');
    return { board, asker };
  };

  /** The proposal of the address, if it is one of this board. */
  const admitTo = async (
    c: Context,
  ): Promise<{ board: string; asker: ProposalStanding; proposal: Proposal }> => {
    const { board, asker } = await admit(c);
    const proposal = await proposals.find(board, c.req.param('proposal') ?? '');
    if (proposal === null) return refuse('unknown');
    return { board, asker, proposal };
  };

  const answer = (c: Context, done: Proposal | Refusal, asker: ProposalStanding): Response =>
    typeof done === 'string' ? refuse(done) : c.json(showProposal(done, asker));

  app.get('/', async (c) => {
    const { board, asker } = await admit(c);
    return c.json((await proposals.list(board)).map((one) => showProposal(one, asker)));
  });

  app.post('/', limit, async (c) => {
    const { board, asker } = await admit(c);
    if (asker.branchOf !== null) problem(409, 'branch', 'a branch has no proposals of its own');
    if (!canPropose(asker.role)) problem(403, 'forbidden', 'you may only look here');
    const fields = await readFields(c, ['title', 'name']);
    const wanted = {
      title: readText(fields, 'title', MAX_TITLE, 1),
      name: readText(fields, 'name', LIMITS.nameCharacters),
      proposer: asker.personId,
    };
    const made = await proposals.make(board, wanted, (bytes) => noteStored(c, bytes));
    return typeof made === 'string' ? refuse(made) : c.json(showProposal(made, asker), 201);
  });

  app.get('/:proposal', async (c) => {
    const { asker, proposal } = await admitTo(c);
    return c.json(showProposal(proposal, asker));
  });

  app.get('/:proposal/states', async (c) => {
    const { board, proposal } = await admitTo(c);
    const states = await proposals.states(board, proposal.id);
    if (states === 'unknown') return refuse(states);
    const { base, present, seen } = states;
    const text = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64');
    return c.json({ base: text(base), present: text(present), seen });
  });

  app.post('/:proposal/hand-in', async (c) => {
    const { board, asker, proposal } = await admitTo(c);
    mustBeMine(asker, proposal);
    return answer(c, await proposals.handIn(board, proposal.id), asker);
  });

  app.post('/:proposal/withdraw', async (c) => {
    const { board, asker, proposal } = await admitTo(c);
    mustBeMine(asker, proposal);
    return answer(c, await proposals.withdraw(board, proposal.id), asker);
  });

  app.post('/:proposal/decline', limit, async (c) => {
    const { board, asker, proposal } = await admitTo(c);
    mustOwn(asker);
    const word = readText(await readFields(c, ['word']), 'word', MAX_WORD);
    return answer(c, await proposals.decline(board, proposal.id, word), asker);
  });

  app.post('/:proposal/accept', limit, async (c) => {
    const { board, asker, proposal } = await admitTo(c);
    mustOwn(asker);
    const fields = await readFields(c, ['word', 'seen', 'isPart']);
    if (typeof fields.isPart !== 'boolean')
      return problem(422, 'wrong-type', 'isPart must be true or false', 'isPart');
    const seen = readText(fields, 'seen', 100, 1);
    const word = readText(fields, 'word', MAX_WORD);
    return answer(
      c,
      await proposals.accept(board, proposal.id, { seen, word, isPart: fields.isPart }),
      asker,
    );
  });

  return app;
}

/** Only who made a proposal hands it in or withdraws it, and only while they may still propose. */
function mustBeMine({ personId, role }: ProposalStanding, proposal: Proposal): void {
  if (proposal.proposer !== personId || !canPropose(role))
    problem(403, 'forbidden', 'only who made the proposal may do this');
  if (!isLive(proposal)) refuse('closed');
}

function mustOwn({ role }: ProposalStanding): void {
  if (!canManage(role)) problem(403, 'forbidden', 'only an owner of the board may do this');
}
