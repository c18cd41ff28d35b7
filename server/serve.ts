/** Puts the parts together and listens. */
import type { IncomingMessage, Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context, Hono } from 'hono';
import { type Access, personOfRequest } from './access/index.ts';
import { createApp } from './app.ts';
import { Archives, archiveRoutes } from './archive/index.ts';
import type { Authorize } from './authorize.ts';
import { BEING_MADE, Boards, HalfMade, makeDemoBoards } from './boards/index.ts';
import { countedAddress, isFromThisMachine } from './client-address.ts';
import { type Clock, pause } from './clock.ts';
import { admitBy, RequestShares } from './http/index.ts';
import { Journal, visitRoutes } from './journal/index.ts';
import { authorizeLessons, boardLessonsRoutes, Lessons, LiveLessons, lessonRoutes } from './lessons/index.ts';
import { KeptAnswer } from './kept-answer.ts';
import type { Log } from './log.ts';
import type { Metrics } from './metrics.ts';
import { ProposalNews, Proposals, proposalRoutes } from './proposals/index.ts';
import { ACCESS_CHANNEL, type Relay } from './relay/index.ts';
import type { Settings } from './settings.ts';
import { Regulars } from './shares.ts';
import type { Store } from './store/index.ts';
import { hearNodes, Rooms, SyncUpgrade, tellNodes, Trials } from './sync/index.ts';
import { TalkRooms } from './talk/index.ts';
import { answeredByLog, unattended } from './unattended.ts';
import { Recorder, type RecorderTimes, Snapshots, Versions, versionRoutes } from './versions/index.ts';
import { ByteBudget, Work } from './work/index.ts';
import { WrittenBytes } from './written-bytes.ts';

/** A line over which an answer or a body is on its way, and nothing goes. */
const SILENT_MS = 60_000;
const TIDY_MS = 60 * 60 * 1000;

export interface ServeDeps {
  readonly settings: Settings;
  readonly store: Store;
  readonly relay: Relay;
  readonly metrics: Metrics;
  readonly log: Log;
  readonly clock: Clock;
  readonly authorize: Authorize;
  readonly pageFolder: string;
  /** Folder of the demo boards; null = none. */
  readonly demoFolder: string | null;
  readonly onMade?: (c: Context, boardId: string) => Promise<Readonly<Record<string, string>>>;
  /** Who holds which link; absent = no links, and with them no proposals. */
  readonly access?: Access;
  /** Called when everything else is closed. */
  readonly onClose?: () => Promise<void>;
  /** Sub-apps under `/api`. */
  readonly api?: readonly { readonly path: string; readonly app: Hono }[];
  /** When versions are taken by themselves; default: see the recorder. */
  readonly versionTimes?: RecorderTimes;
  /** The compiled worker that does large work; absent: it is done here. */
  readonly worker?: URL;
}

export interface RunningServer {
  readonly host: string;
  readonly port: number;
  readonly rooms: Rooms;
  readonly boards: Boards;
  /** Null where there are no links. */
  readonly proposals: Proposals | null;
  readonly versions: Versions;
  readonly recorder: Recorder;
  /** No longer ready, still serving: for a proxy to send new visitors elsewhere. */
  drain(): void;
  /** Drains for the time that is set; then stops accepting, puts everybody out, stores everything. @returns rooms with edits that could not be stored */
  close(): Promise<number>;
}

/** The asker's address as limits count it: the last hop that the proxy saw when it is trusted, else the socket's. */
export function forwardedAddress(
  forwardedFor: string | undefined,
  socketAddress: string,
  trustProxy: boolean,
): string {
  const last = trustProxy ? forwardedFor?.split(',').at(-1)?.trim() : undefined;
  return countedAddress(last || socketAddress);
}

/** Whether the asker came over https: the server itself speaks http, so only a trusted proxy can say so. */
export function forwardedSecure(forwardedProto: string | undefined, trustProxy: boolean): boolean {
  return trustProxy && forwardedProto?.split(',').at(-1)?.trim() === 'https';
}

/** Starts the server. Rejects when the store can't be read, a demo board is not valid or the port is taken. */
export async function startServer(deps: ServeDeps): Promise<RunningServer> {
  const { settings, store, relay, metrics, log, clock } = deps;
  const { now } = clock;
  const { limits, trustProxy } = settings;
  const answerable = answeredByLog(log);
  // Where the disk is full boards can still be read: what cannot be removed now keeps no server from starting, and goes later.
  const tried = (what: string, work: () => Promise<void>): Promise<void> =>
    new Promise((resolve) => unattended(answerable, what, () => work().finally(resolve)));
  const versions = new Versions({ store, now });
  const { versionTimes: times } = deps;
  // Archives take longest, and nobody else should wait for them.
  const work = new Work(deps.worker ?? null, clock);
  const archiveWork = new Work(deps.worker ?? null, clock);
  // Edits wait for versions before they are saved.
  const versionWork = new Work(deps.worker ?? null, clock);
  const snapshots = new Snapshots(versionWork);
  const recorder = new Recorder({ versions, snapshots, log, metrics, clock, ...(times && { times }) });
  const workerFile = new URL('./worker.js', import.meta.url);
  const trials = new Trials({ workerFile, clock, log, metrics, most: limits.steps });
  const rooms = new Rooms({
    store,
    relay,
    log,
    metrics,
    limits,
    clock,
    trials,
    work,
    watch: recorder,
    onPast: (room) => {
      const { address, generation, held } = room;
      unattended(answerable, 'past', () => journal.shorten(address, generation, held.bytes));
    },
  });
  const journal = new Journal({ store, rooms, work, log, now });
  const { access } = deps;
  const first = access ? [BEING_MADE] : [];
  const boards = new Boards(store, rooms, work, now, first);
  if (deps.demoFolder !== null) {
    const made = await makeDemoBoards(store, deps.demoFolder, now);
    if (made.length > 0) log.info('demo-boards-made', { count: made.length });
  }
  let isDraining = false;
  metrics.gauge('larkboard_resident_bytes', 'Memory of the process.', () => process.memoryUsage.rss());
  metrics.gauge('larkboard_heap_bytes', 'Memory in use by JavaScript.', () => process.memoryUsage().heapUsed);
  const proposalNews = new ProposalNews(clock, answerable, (board) => upgrade.tellProposals(board));
  const proposals =
    access &&
    new Proposals({
      store,
      rooms,
      work,
      now,
      narrow: (board) => access.narrow(board),
      changed: (board) => {
        proposalNews.changed(board);
        tellNodes(relay, { kind: 'proposals', board });
      },
    });
  if (access && proposals) {
    access.useBranches((board) => proposals.branchOf(board));
    await tried('branches', async () => {
      const swept = await proposals.sweep();
      if (swept > 0) log.info('branches-swept', { count: swept });
    });
  }
  const lessons =
    access &&
    new Lessons({
      store,
      rooms,
      now,
      roleOn: async (person, board) => (await access.standing(person, board))?.role ?? null,
      narrow: (lesson) => access.narrow(lesson),
      changed: (lesson) => {
        liveLessons?.reload(lesson);
        tellNodes(relay, { kind: 'lesson', board: lesson });
      },
    });
  const liveLessons = lessons && new LiveLessons({ lessons, relay, clock, metrics, answerable });
  const authorize =
    access && lessons ? authorizeLessons(access, lessons, now, deps.authorize) : deps.authorize;
  const addressOf = (c: Context): string =>
    forwardedAddress(c.req.header('x-forwarded-for'), getConnInfo(c).remote.address ?? 'unknown', trustProxy);
  const onMade: NonNullable<ServeDeps['onMade']> = async (c, board) => {
    try {
      const made = (await deps.onMade?.(c, board)) ?? {};
      await halfMade?.finish(board);
      return made;
    } catch (cause) {
      // A board that has no owner opens to nobody, and nobody knows of it. Whoever asked hears why it was not made.
      await tried('give-up', async () => {
        await (halfMade?.giveUp(board) ?? store.removeBoard(board));
      });
      throw cause;
    }
  };
  const forgetLinks = async (board: string): Promise<void> => access?.forgetBoard(board);
  const archives = new Archives({ store, rooms, work: archiveWork, now, first, forgetLinks, answerable });
  const halfMade = access
    ? new HalfMade({
        store,
        now,
        hasOwner: (board) => access.hasHadOwner(board),
        forgetLinks,
        remove: (board) => archives.remove(board),
      })
    : null;
  const tidy = async (): Promise<void> => {
    const count = (await halfMade?.sweep()) ?? 0;
    if (count > 0) log.info('boards-swept', { count });
    const over = (await lessons?.sweep()) ?? 0;
    if (over > 0) log.info('lessons-swept', { count: over });
  };
  await tried('tidy', tidy);
  const stopTidying = clock.every(TIDY_MS, () => unattended(answerable, 'tidy', tidy));
  const regulars = new Regulars();
  const written = new WrittenBytes(settings.writtenBytes, now);
  const shares = new RequestShares({
    authorize,
    personOf: access
      ? async (c) => {
          const personId = await personOfRequest(access, c);
          return personId === null ? null : { personId, isNew: access.isNew(personId) };
        }
      : null,
    regulars,
    addressOf,
    now,
  });
  const admit = admitBy({ store, authorize, addressOf });
  const lessonApi = (access: Access, lessons: Lessons): readonly { path: string; app: Hono }[] => {
    const isSecure = (c: Context): boolean => forwardedSecure(c.req.header('x-forwarded-proto'), trustProxy);
    const of = { lessons, access, boards, versions, admit, now, addressOf, isSecure };
    return [
      { path: '/boards/:id/lessons', app: boardLessonsRoutes(of) },
      { path: '/lessons/:id', app: lessonRoutes(of) },
    ];
  };
  const storeAnswer = new KeptAnswer(clock, async () => {
    try {
      await store.ping();
      return null;
    } catch (cause) {
      // What a database says may name machines and tables; that is for who runs the server.
      log.error('store-unreachable', { message: (cause as Error).message });
      return 'the store does not answer';
    }
  });
  const app = createApp({
    boards,
    talk: new TalkRooms(rooms, now),
    admit,
    metrics,
    log,
    clock,
    pageFolder: deps.pageFolder,
    allowedOrigins: settings.allowedOrigins,
    addressOf,
    shareOf: (c) => shares.of(c),
    making: settings.making,
    written,
    requestTimes: settings.requestTimes,
    whyNotReady: async () => {
      if (isDraining) return 'the server is being shut down';
      if (!relay.isUp) return 'the relay to the other nodes is down';
      return storeAnswer.get();
    },
    isFromThisMachine: (c) =>
      isFromThisMachine((name) => c.req.header(name), getConnInfo(c).remote.address ?? '', trustProxy),
    metricsToken: settings.metricsToken,
    onMade,
    api: [
      {
        path: '',
        app: archiveRoutes({ archives, budget: new ByteBudget(settings.archiveBytes), admit, log, onMade }),
      },
      ...(deps.api ?? []),
      { path: '/boards/:id/versions', app: versionRoutes({ versions, snapshots, rooms, admit, now }) },
      { path: '/boards/:id/visits', app: visitRoutes({ journal, admit }) },
      ...(access && lessons ? lessonApi(access, lessons) : []),
      ...(access && proposals
        ? [
            {
              path: '/boards/:id/proposals',
              app: proposalRoutes({
                proposals,
                standingOf: async (c, board) => access.standing(await personOfRequest(access, c), board),
              }),
            },
          ]
        : []),
    ],
  });
  const upgrade = new SyncUpgrade({
    store,
    rooms,
    isShared: relay.isShared,
    isCutOff: () => relay.isShared && !relay.isUp,
    authorize,
    regulars,
    written,
    beside: ({ id, kind }, { personId, canWrite }) =>
      liveLessons && kind === 'lesson' && personId !== null
        ? (line) => liveLessons.enter(id, line, personId, canWrite)
        : null,
    limits,
    log,
    metrics,
    clock,
    allowedOrigins: settings.allowedOrigins,
    addressOf: (request: IncomingMessage) =>
      forwardedAddress(
        request.headers['x-forwarded-for']?.toString(),
        request.socket.remoteAddress ?? 'unknown',
        trustProxy,
      ),
  });
  await hearNodes(relay, ({ kind, board }) => {
    if (kind === 'narrowed') unattended(answerable, 'narrowed', () => upgrade.askAnew(board));
    else if (kind === 'lesson') liveLessons?.reload(board);
    else proposalNews.changed(board);
  });
  relay.onGap((room) => {
    if (room !== null && room !== ACCESS_CHANNEL) return;
    unattended(answerable, 'gap', () => upgrade.askAnew(null));
    // Of whose proposals it was is not known either.
    unattended(answerable, 'gap', () => upgrade.tellProposals(null));
    liveLessons?.reload(null);
  });
  access?.onNarrowed((boardId) => {
    unattended(answerable, 'narrowed', () => upgrade.askAnew(boardId));
    tellNodes(relay, { kind: 'narrowed', board: boardId });
    // Rights on its branches follow from those on the board.
    unattended(answerable, 'narrowed-branches', async () => {
      try {
        await proposals?.narrowBranches(boardId);
      } catch (cause) {
        // Which branches there are cannot be read now: everybody everywhere is asked for anew instead.
        log.error('branches-unknown', { message: (cause as Error).message });
        await upgrade.askAnew(null);
      }
    });
    // So do rights in the lessons given on it.
    unattended(answerable, 'narrowed-lessons', async () => {
      try {
        await lessons?.narrowLessons(boardId);
      } catch (cause) {
        log.error('lessons-unknown', { message: (cause as Error).message });
        await upgrade.askAnew(null);
      }
    });
  });
  const server = createAdaptorServer({ fetch: app.fetch }) as Server;
  // Whoever neither sends nor reads for so long holds what waits for them no longer. Sockets have limits of their own.
  server.timeout = SILENT_MS;
  server.on('upgrade', (request, raw, head) =>
    unattended(answerable, 'upgrade', () => upgrade.handle(request, raw, head)),
  );
  server.on('clientError', (_error, socket) => {
    if (socket.writable)
      socket.end('HTTP/1.1 400 Bad Request\r\nCache-Control: no-store\r\nConnection: close\r\n\r\n');
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(settings.port, settings.host, () => resolve());
  });
  const { address, port } = server.address() as AddressInfo;

  const close = async (): Promise<number> => {
    isDraining = true;
    if (settings.drainMs > 0) await pause(clock, settings.drainMs);
    stopTidying();
    proposalNews.end();
    upgrade.stop();
    const stopped = new Promise<void>((resolve) => server.close(() => resolve()));
    const left = await rooms.close(settings.shutdownMs);
    await recorder.finish(settings.shutdownMs);
    await Promise.all([work.close(), archiveWork.close(), versionWork.close(), trials.close()]);
    server.closeAllConnections();
    await stopped;
    await relay.close();
    await store.close();
    await deps.onClose?.();
    return left;
  };
  let closing: Promise<number> | null = null;
  return {
    host: address,
    port,
    rooms,
    boards,
    proposals: proposals ?? null,
    versions,
    recorder,
    drain: () => {
      isDraining = true;
    },
    close: () => {
      closing ??= close();
      return closing;
    },
  };
}
