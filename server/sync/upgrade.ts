/**
 * From an upgrade request to a socket in a room.
 *
 * Uses `ws` without a server of its own, on the upgrade event of Node's HTTP server: the layer of web-standard
 * events above it costs processor time on each message (figures in RUNNING.md). The handshake is answered only when the
 * document has been read, so nothing a client sends can arrive before.
 */
import { randomUUID } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocket, WebSocketServer } from 'ws';
import {
  type BoardPart,
  CLOSE_CODES,
  type CloseReason,
  canManage,
  DOCUMENT_PARTS,
  FOLLOWS_RENEWALS,
  HEARS_PROPOSALS,
  isWrittenBySockets,
  quotaOf,
  SYNC_PATH,
} from '../../engine/document/index.ts';
import type { Asker, Authorize, Pass } from '../authorize.ts';
import type { Clock } from '../clock.ts';
import { FewAtATime } from '../few-at-a-time.ts';
import type { Log } from '../log.ts';
import type { Metrics } from '../metrics.ts';
import { type Regulars, type Share, shareOf, shareOfStrangers } from '../shares.ts';
import { type BoardRecord, partsOf, type Store, StoreError } from '../store/index.ts';
import { isOriginAllowed } from '../own-page.ts';
import { answeredByLog, unattended } from '../unattended.ts';
import type { WrittenBytes } from '../written-bytes.ts';
import { Connection } from './connection.ts';
import type { BesideLine, BesideSeat } from './connection-options.ts';
import type { SyncLimits } from './limits.ts';
import { frameOf } from './messages.ts';
import { type Account, Outgoing } from './outgoing.ts';
import { Rate } from './rate.ts';
import { type RoomHold, type Rooms, TooManyRooms } from './rooms.ts';
import { SocketShares } from './socket-shares.ts';
import { Writing } from './writing.ts';

export interface UpgradeDeps {
  readonly store: Store;
  readonly rooms: Rooms;
  /** Whether other nodes serve the same boards. */
  readonly isShared: boolean;
  /** Whether what other nodes say does not arrive here now. */
  readonly isCutOff: () => boolean;
  readonly authorize: Authorize;
  /** Who was let in before. */
  readonly regulars: Regulars;
  readonly written: WrittenBytes;
  /** What is said in a room beside its document; null where nothing is. */
  readonly beside: (board: BoardRecord, pass: Pass) => ((line: BesideLine) => BesideSeat) | null;
  readonly limits: SyncLimits;
  readonly log: Log;
  readonly metrics: Metrics;
  readonly clock: Clock;
  /** Origins that may open sockets beside the server's own host; scheme, host and port. */
  readonly allowedOrigins: readonly string[];
  /** Address of the asker, with proxies taken into account. */
  readonly addressOf: (request: IncomingMessage) => string;
}

const TARGET = new RegExp(`^${SYNC_PATH}/([A-Za-z0-9_-]{1,64})/(${DOCUMENT_PARTS.join('|')})$`);
/** Addresses remembered for their rate at most. */
const MAX_ADDRESSES = 50_000;

/** For errors that need no answer; one for all sockets. */
const ignore = (): void => {};

/** How often ends of links are looked at. */
const END_TICK_MS = 1_000;
/** While other nodes cannot say whose link was taken back, everybody is asked for so long after they were asked for last. */
const CUT_OFF_MS = 2_000;
/** Askings at once where it is about everybody: the database has others to answer too. */
const ASKED_AT_ONCE = 8;

/** Someone who is in, and what it rests on: of the asker's headers the cookie alone is kept. */
interface Admitted {
  readonly asker: Asker;
  readonly board: BoardRecord;
  readonly part: BoardPart;
  readonly seat: Seat;
  /** Whether it asked to hear of proposals. */
  readonly hearsProposals: boolean;
  readonly isFollower: boolean;
  pass: Pass;
}

/** Who wants to come in. */
interface Visit {
  readonly request: IncomingMessage;
  readonly raw: Duplex;
  readonly head: Buffer;
  readonly id: string;
  readonly board: string;
  readonly part: BoardPart;
  readonly address: string;
  readonly hearsProposals: boolean;
  readonly isFollower: boolean;
}

/** What an open socket counts for; kept as long as it is open. */
interface Seat {
  readonly address: string;
  share: Share;
}

/** Says `tooLarge` where `ws` would say 1009, so that clients read one set of codes. */
class RoomSocket extends WebSocket {
  override close(code?: number, data?: string | Buffer): void {
    if (code === 1009) super.close(CLOSE_CODES.tooLarge, 'the message is too large');
    else super.close(code, data);
  }
}

export class SyncUpgrade {
  readonly #deps: UpgradeDeps;
  readonly #server: WebSocketServer;
  readonly #open = new Map<string, number>();
  readonly #rates = new Map<string, Rate>();
  readonly #shares: SocketShares;
  readonly #outgoing: Outgoing;
  readonly #admitted = new Map<Connection, Admitted>();
  readonly #stopLooking: () => void;
  /** Times that somebody's rights may have become less; an answer from before one is asked for anew. */
  #narrowings = 0;
  readonly #asking = new FewAtATime(ASKED_AT_ONCE);
  #isAskingAll = false;
  #askedAllAt = Number.NEGATIVE_INFINITY;
  #pending = 0;
  #isStopped = false;

  constructor(deps: UpgradeDeps) {
    this.#deps = deps;
    this.#server = new WebSocketServer({
      noServer: true,
      clientTracking: false,
      maxPayload: deps.limits.messageBytes,
      perMessageDeflate: false,
      WebSocket: RoomSocket,
    });
    this.#shares = new SocketShares(deps.limits);
    this.#outgoing = new Outgoing(deps.limits);
    deps.metrics.gauge('larkboard_queued_bytes', 'Bytes that wait to be read.', () => this.#outgoing.bytes);
    this.#stopLooking = deps.clock.every(END_TICK_MS, () => {
      this.#askThoseWhoseTimeIsUp();
      unattended(answeredByLog(deps.log), 'ask-all', () => this.#askWhileCutOff());
    });
  }

  /** Takes no new sockets from now on. */
  stop(): void {
    this.#isStopped = true;
    this.#stopLooking();
  }

  /**
   * Asks anew for everybody on a board (null: on all) whether they may still be there, and puts out who may not.
   * Fulfils when all have been asked; never rejects.
   */
  async askAnew(boardId: string | null): Promise<void> {
    this.#narrowings += 1;
    if (boardId === null) return this.#askAll(false);
    const asked = [...this.#admitted].filter(([, { board }]) => board.id === boardId);
    await Promise.all(asked.map(([connection, admitted]) => this.#askOne(connection, admitted)));
  }

  /** Tells who asked to hear of it, on a board (null: on all) and its branches, that its proposals may be others now. */
  tellProposals(boardId: string | null): void {
    const frame = frameOf({ kind: 'proposals' });
    for (const [connection, { board, pass, hearsProposals }] of this.#admitted)
      if (hearsProposals && (boardId === null || boardId === (pass.branchOf ?? board.id)))
        unattended(connection.room, 'proposals', () => connection.send(frame));
  }

  /** @param mayDoubt see {@link #askOne} */
  async #askAll(mayDoubt: boolean): Promise<void> {
    await Promise.all(
      [...this.#admitted].map(([connection, admitted]) =>
        this.#asking.run(() => this.#askOne(connection, admitted, mayDoubt)),
      ),
    );
  }

  /** Nobody tells this node whose link was taken back, so it asks again and again. */
  async #askWhileCutOff(): Promise<void> {
    const { isCutOff, clock } = this.#deps;
    if (!isCutOff() || this.#isAskingAll || clock.elapsed() < this.#askedAllAt + CUT_OFF_MS) return;
    this.#isAskingAll = true;
    try {
      await this.#askAll(true);
    } finally {
      this.#isAskingAll = false;
      this.#askedAllAt = clock.elapsed();
    }
  }

  /**
   * @param mayDoubt whether they stay while it cannot be read: they are asked for again soon, and where the database is away no edit of
   *   theirs is stored either
   */
  async #askOne(connection: Connection, admitted: Admitted, mayDoubt = false): Promise<void> {
    if (!this.#admitted.has(connection)) return;
    const { authorize, log } = this.#deps;
    const { asker, board, part, pass: before } = admitted;
    try {
      const pass = await authorize(asker, board, part);
      if ('denied' in pass) connection.close('revoked', 'the link was taken back or has ended');
      else if (pass.role !== before.role) connection.close('roleChanged', `now ${pass.role}`);
      else admitted.pass = pass;
    } catch (cause) {
      // Whether they may stay is not known, so they may not; they come again and are asked then.
      log.error('ask-failed', { connection: connection.id, message: (cause as Error).message });
      if (!mayDoubt) connection.close('storeFailed', 'who may be here cannot be read now');
    }
  }

  #askThoseWhoseTimeIsUp(): void {
    const now = this.#deps.clock.now();
    for (const [connection, admitted] of this.#admitted) {
      const { endsAt } = admitted.pass;
      if (typeof endsAt === 'number' && endsAt <= now)
        unattended(connection.room, 'link-end', () => this.#askOne(connection, admitted));
    }
  }

  /** Handles one `upgrade` event of the HTTP server. Never throws. */
  async handle(request: IncomingMessage, raw: Duplex, head: Buffer): Promise<void> {
    // The socket is ours from here on: a reset while we wait for the store must not end the process.
    const onError = (): void => {
      raw.destroy();
    };
    raw.on('error', onError);
    const { deps, id } = { deps: this.#deps, id: socketId() };
    // Not by URL: it throws at what a hostile client may send.
    const [path = '', query = ''] = (request.url ?? '').split('?', 2);
    const target = TARGET.exec(path);
    if (!target) {
      refuse(raw, 404, 'Not Found');
      return;
    }
    // Browsers send the origin with every handshake, and do not agree on what site a socket asks from.
    const { origin, host } = request.headers;
    if (!isOriginAllowed(origin, host, deps.allowedOrigins)) {
      deps.metrics.count('larkboard_refused_total', 'Messages refused.', { reason: 'origin' });
      refuse(raw, 403, 'Forbidden');
      return;
    }
    const address = deps.addressOf(request);
    if (this.#isStopped || !this.#isSlowEnough(address, request, target[1]!)) {
      refuse(raw, 503, 'Service Unavailable');
      return;
    }
    if (!this.#hasRoomFor(address)) {
      this.#turnAway(request, raw, head, 'busy', 'too many connections');
      raw.on('error', ignore);
      return;
    }
    this.#pending += 1;
    this.#open.set(address, (this.#open.get(address) ?? 0) + 1);
    // It comes once; `once` would keep three more objects for each socket.
    const asked = new URLSearchParams(query);
    const hearsProposals = asked.get('hears') === HEARS_PROPOSALS.hears;
    const isFollower = asked.get('follows') === FOLLOWS_RENEWALS.follows;
    const [board, part] = [target[1]!, target[2] as BoardPart];
    const visit: Visit = { request, raw, head, id, board, part, address, hearsProposals, isFollower };
    const seat: Seat = { address, share: [] };
    raw.on('close', () => this.#leave(seat));
    try {
      await this.#admit(visit, seat);
    } catch (cause) {
      deps.log.error('upgrade-failed', { connection: id, message: (cause as Error).message });
      raw.destroy();
    } finally {
      this.#pending -= 1;
      raw.off('error', onError);
      raw.on('error', ignore);
    }
  }

  /** Whether the address opens sockets no faster than people do; a flood is not worth a handshake, nor asking the store. */
  #isSlowEnough(address: string, request: IncomingMessage, board: string): boolean {
    const { limits, clock, regulars } = this.#deps;
    let rate = this.#rates.get(address);
    if (!rate) {
      if (this.#rates.size >= MAX_ADDRESSES) this.#rates.clear();
      rate = new Rate(limits.newPerAddress / 10);
      this.#rates.set(address, rate);
    }
    if (rate.allows(clock.now())) return true;
    // Whoever has been there before does not pay for others at the same address.
    if (regulars.find(request.headers.cookie, board, clock.now()) !== null) return true;
    this.#countTooFast();
    return false;
  }

  #countTooFast(): void {
    this.#deps.metrics.count('larkboard_refused_total', 'Messages refused.', { reason: 'connection-rate' });
  }

  #hasRoomFor(address: string): boolean {
    const { limits, rooms } = this.#deps;
    return (
      rooms.connections.size + this.#pending < limits.connections &&
      (this.#open.get(address) ?? 0) < limits.connectionsPerAddress
    );
  }

  /** Says no with a close code: a browser shows its page no status of a failed handshake. */
  #turnAway(request: IncomingMessage, raw: Duplex, head: Buffer, reason: CloseReason, message: string): void {
    this.#deps.metrics.count('larkboard_closed_total', 'Sockets closed by the server.', { reason });
    if (raw.destroyed) return;
    this.#server.handleUpgrade(request, raw, head, (socket) => {
      socket.on('error', ignore);
      socket.close(CLOSE_CODES[reason], message);
      // Whoever does not answer the close is cut off by `ws` after 30 s.
    });
  }

  #leave({ address, share }: Seat): void {
    const left = (this.#open.get(address) ?? 1) - 1;
    if (left > 0) this.#open.set(address, left);
    else this.#open.delete(address);
    this.#shares.leave(share);
  }

  /** Whether a share has room for one more socket, which then counts until it ends. Else the visitor is turned away. */
  #isSeated(visit: Visit, seat: Seat, share: Share): boolean {
    const { raw, request, head, board } = visit;
    const now = this.#deps.clock.now();
    if (!this.#shares.mayTry(share, now)) {
      this.#countTooFast();
      refuse(raw, 503, 'Service Unavailable');
      return false;
    }
    // Its end may have been told already.
    if (raw.destroyed) return false;
    if (!this.#shares.hasRoomFor(share)) {
      this.#turnAway(request, raw, head, 'busy', 'too many connections of one share');
      return false;
    }
    this.#deps.regulars.note(request.headers.cookie, board, share, now);
    this.#shares.enter(share);
    seat.share = share;
    return true;
  }

  async #admit(visit: Visit, seat: Seat): Promise<void> {
    const { request, raw, head, id, board: boardId, part, address, hearsProposals, isFollower } = visit;
    const { store, rooms, authorize, isShared, log, metrics } = this.#deps;
    const turnAway = (reason: CloseReason, message: string): void => {
      log.info('socket-refused', { connection: id, board: boardId, part, reason });
      this.#turnAway(request, raw, head, reason, message);
    };
    try {
      let { removals } = rooms;
      const known = rooms.recordOf({ board: boardId, part });
      const board = known ?? (await store.board(boardId));
      const strangers = shareOfStrangers(address);
      // A lesson has none of the documents of a board, nor a board that of a lesson.
      if (board === null || !partsOf(board.kind).includes(part)) {
        if (this.#isSeated(visit, seat, strangers)) turnAway('unknownBoard', 'no such board');
        return;
      }
      const headers = Object.fromEntries(
        Object.entries(request.headers).map(([name, value]) => [
          name,
          Array.isArray(value) ? value.join(', ') : value,
        ]),
      );
      const asker: Asker = { headers, address };
      let asked = this.#narrowings;
      let pass = await authorize(asker, board, part);
      if (!this.#isSeated(visit, seat, shareOf(pass, boardId, address))) return;
      if ('denied' in pass) return turnAway(pass.denied, pass.message);
      // By the record's id: the one in the request would hold on to its address line.
      const hold = await rooms.hold({ board: board.id, part });
      // Where nobody was in the room, it is not heard of that another node has deleted the board.
      let isDoubtful = isShared && known === null;
      try {
        // While the document was read a link may have been taken back, and the board deleted.
        while (asked !== this.#narrowings || removals !== rooms.removals || isDoubtful) {
          asked = this.#narrowings;
          removals = rooms.removals;
          isDoubtful = false;
          if ((await store.board(boardId)) === null) hold.room.isGone = true;
          pass = await authorize(asker, board, part);
          if ('denied' in pass || hold.room.isGone) break;
        }
      } catch (cause) {
        hold.release();
        throw cause;
      }
      if ('denied' in pass || hold.room.isGone) {
        hold.release();
        if ('denied' in pass) return turnAway(pass.denied, pass.message);
        return turnAway('unknownBoard', 'the board was deleted');
      }
      if (raw.destroyed || this.#isStopped) {
        hold.release();
        raw.destroy();
        return;
      }
      const { cookie } = request.headers;
      const asks = { headers: { cookie }, address };
      const admitted: Admitted = { asker: asks, board, part, seat, hearsProposals, isFollower, pass };
      this.#server.handleUpgrade(request, raw, head, (socket) =>
        this.#enter(socket, raw, id, hold, admitted),
      );
      // `handleUpgrade` answers a bad handshake by itself and then calls nothing back.
      if (raw.destroyed || !raw.writable) hold.release();
    } catch (cause) {
      if (cause instanceof TooManyRooms) return turnAway('busy', cause.message);
      if (!(cause instanceof StoreError)) throw cause;
      log.error('open-failed', {
        connection: id,
        board: boardId,
        part,
        kind: cause.kind,
        message: cause.message,
      });
      metrics.count('larkboard_open_failures_total', 'Documents that could not be read.', {
        kind: cause.kind,
      });
      turnAway('storeFailed', 'the board cannot be read now');
    }
  }

  /** Who pays for what waits to be read. */
  #accountOf({ asker, pass }: Admitted): Account {
    if (!pass.isAdmitted) return this.#outgoing.open('strangers', asker.address);
    return pass.personId === null
      ? this.#outgoing.open('anybody', asker.address)
      : this.#outgoing.open('person', pass.personId);
  }

  /** On its own, so that what lives as long as the socket does not hold on to the request. */
  #enter(socket: WebSocket, raw: Duplex, id: string, hold: RoomHold, admitted: Admitted): void {
    const { rooms, limits, log, metrics, clock, written } = this.#deps;
    const { room } = hold;
    room.record = admitted.board;
    const { personId, role } = admitted.pass;
    const canWrite = admitted.pass.canWrite && isWrittenBySockets(admitted.part);
    const connection = new Connection({
      id,
      socket,
      raw,
      room,
      canWrite,
      isOwner: canManage(role),
      quota: quotaOf(role, admitted.part),
      personId,
      isFollower: admitted.isFollower,
      limits,
      outgoing: this.#outgoing,
      account: this.#accountOf(admitted),
      writing: new Writing(written, admitted.seat),
      beside: this.#deps.beside(admitted.board, admitted.pass),
      log,
      metrics,
      now: clock.now,
    });
    rooms.connections.add(connection);
    this.#admitted.set(connection, admitted);
    socket.on('close', () => {
      this.#admitted.delete(connection);
      rooms.connections.delete(connection);
      hold.release();
    });
    unattended(room, 'join', () => room.members.join(connection));
    log.debug('socket-opened', { connection: id, room: room.name, role });
  }
}

/** A new id. What `randomUUID` gives are some twenty strings that hold each other, and this one is kept as long as the socket. */
function socketId(): string {
  return Buffer.from(randomUUID(), 'latin1').toString('latin1');
}

/** Answers an upgrade with a plain HTTP status and closes. */
function refuse(raw: Duplex, status: number, text: string): void {
  raw.end(
    `HTTP/1.1 ${status} ${text}\r\nCache-Control: no-store\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`,
  );
}
