/**
 * A server of rooms in memory, as the sockets of a page meet it. By itself it takes what it is sent and answers marks, as the real one
 * does; a test may have it store nothing for a while, say a notice, close a room for a reason, or be away.
 */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as Y from 'yjs';
import {
  CLOSE_CODES,
  type CloseReason,
  compactDesign,
  encodeNotice,
  encodePieceWanted,
  encodeRenewed,
  encodeSavedMark,
  IDENTITY_ROOT,
  MESSAGE_COPY_PIECE,
  MESSAGE_PRESENCE,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  type NoticeCode,
  readCopyPiece,
  readSavedMark,
  SYNC_PATH,
  SYNC_STEP_1,
  SYNC_STEP_2,
  SYNC_UPDATE,
} from '../../engine/document/index.ts';

function syncFrame(kind: number, bytes: Uint8Array): Uint8Array {
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_SYNC);
    encoding.writeVarUint(encoder, kind);
    encoding.writeVarUint8Array(encoder, bytes);
  });
}

/** What somebody says of themselves, under a number that counts up. */
interface Said {
  readonly client: number;
  readonly clock: number;
  readonly state: string;
}

function presenceFrame(said: readonly Said[]): Uint8Array {
  const bytes = encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, said.length);
    for (const { client, clock, state } of said) {
      encoding.writeVarUint(encoder, client);
      encoding.writeVarUint(encoder, clock);
      encoding.writeVarString(encoder, state);
    }
  });
  return encoding.encode((encoder) => {
    encoding.writeVarUint(encoder, MESSAGE_PRESENCE);
    encoding.writeVarUint8Array(encoder, bytes);
  });
}

function readSaid(bytes: Uint8Array): readonly Said[] {
  const decoder = decoding.createDecoder(bytes);
  return Array.from({ length: decoding.readVarUint(decoder) }, () => ({
    client: decoding.readVarUint(decoder),
    clock: decoding.readVarUint(decoder),
    state: decoding.readVarString(decoder),
  }));
}

/** The page's end of a socket; the room has the other. */
class RoomSocket {
  readonly OPEN = 1;
  readyState = 0;
  onopen: (() => void) | null = null;
  onmessage: ((event: { readonly data: Uint8Array }) => void) | null = null;
  onclose: ((event: { readonly code: number; readonly reason: string }) => void) | null = null;
  readonly #room: MemoryRoom;

  constructor(room: MemoryRoom, isDown: boolean) {
    this.#room = room;
    queueMicrotask(() => {
      if (isDown) this.end(1006);
      else if (this.readyState === 0) this.#open();
    });
  }

  send(frame: Uint8Array): void {
    const sent = frame.slice();
    // What was sent before the page closed it arrives.
    if (this.readyState === 1) queueMicrotask(() => this.#room.read(this, sent));
  }

  close(): void {
    this.readyState = 3;
    this.#room.left(this);
  }

  #open(): void {
    this.readyState = 1;
    this.#room.sockets.add(this);
    this.onopen?.();
    this.#room.greet(this);
  }

  /** The server says something. */
  tell(frame: Uint8Array): void {
    queueMicrotask(() => this.onmessage?.({ data: frame }));
  }

  /** The server closes it, or the line breaks. */
  end(code: number): void {
    this.close();
    this.onclose?.({ code, reason: '' });
  }
}

export class MemoryRoom {
  doc = new Y.Doc();
  readonly sockets = new Set<RoomSocket>();
  /** Sockets that ever came in. */
  visits = 0;
  /** Marks that pages have sent, and pieces of copies. */
  marks = 0;
  pieces = 0;
  /** What pages said of others. */
  repeats = 0;
  /** Newcomers are closed for this reason. */
  refusal: CloseReason | null = null;
  /** Whether it asks for the next piece of a copy. */
  asksOn = true;
  /** What each said last of themselves: pages repeat what they hear of others, too. */
  readonly #said = new Map<RoomSocket, Said>();
  #isStoring = true;
  #waiting: (() => void)[] = [];
  #copy = new Uint8Array();

  /** Those that were handed over, until they have gone over. */
  readonly #goingOver = new Set<RoomSocket>();
  #generation = 1;

  constructor() {
    this.#listen();
  }

  /** Begins the next generation of a design, and hands everybody over. */
  renew(): void {
    const next = compactDesign(this.doc);
    if (next === null) throw new Error('the room holds no board');
    this.#generation += 1;
    next.getMap(IDENTITY_ROOT).set('name', `kites/design~${this.#generation}~memory`);
    this.doc = next;
    this.#listen();
    for (const socket of this.sockets) {
      this.#goingOver.add(socket);
      socket.tell(encodeRenewed(Y.encodeStateAsUpdate(next)));
    }
  }

  #listen(): void {
    this.doc.on('update', (update: Uint8Array, origin: unknown) => {
      for (const socket of this.sockets) if (socket !== origin) socket.tell(syncFrame(SYNC_UPDATE, update));
    });
  }

  /** Whether marks are answered; those that waited are once they are. */
  set isStoring(isStoring: boolean) {
    this.#isStoring = isStoring;
    if (isStoring) for (const answer of this.#waiting.splice(0)) answer();
  }

  say(notice: NoticeCode): void {
    this.tell(encodeNotice(notice));
  }

  tell(frame: Uint8Array): void {
    for (const socket of this.sockets) socket.tell(frame);
  }

  /** Closes all sockets; null = the line breaks. */
  close(reason: CloseReason | null): void {
    for (const socket of [...this.sockets]) socket.end(reason === null ? 1006 : CLOSE_CODES[reason]);
  }

  greet(socket: RoomSocket): void {
    this.visits += 1;
    if (this.refusal !== null) {
      socket.end(CLOSE_CODES[this.refusal]);
      return;
    }
    socket.tell(syncFrame(SYNC_STEP_1, Y.encodeStateVector(this.doc)));
    if (this.#said.size > 0) socket.tell(presenceFrame([...this.#said.values()]));
  }

  /** The socket is closed: the others hear that whoever was there has gone. */
  left(socket: RoomSocket): void {
    this.sockets.delete(socket);
    const said = this.#said.get(socket);
    this.#said.delete(socket);
    if (said !== undefined) this.tell(presenceFrame([{ ...said, clock: said.clock + 1, state: 'null' }]));
  }

  read(socket: RoomSocket, frame: Uint8Array): void {
    const decoder = decoding.createDecoder(frame);
    const kind = decoding.readVarUint(decoder);
    if (kind === MESSAGE_RENEWED) this.#goingOver.delete(socket);
    if (this.#goingOver.has(socket) && kind !== MESSAGE_PRESENCE) return;
    if (kind === MESSAGE_SYNC) this.#sync(socket, decoder);
    else if (kind === MESSAGE_SAVED_MARK) this.#mark(socket, readSavedMark(decoder)!);
    else if (kind === MESSAGE_COPY_PIECE) this.#piece(socket, decoder);
    else if (kind === MESSAGE_PRESENCE) {
      for (const said of readSaid(decoding.readVarUint8Array(decoder))) {
        const own = this.#said.get(socket)?.client;
        const isOthers = [...this.#said.values()].some(({ client }) => client === said.client);
        if (own === undefined ? isOthers : said.client !== own) this.repeats += 1;
        else if (own === undefined && said.state === 'null') continue;
        else {
          this.#said.set(socket, said);
          this.tell(presenceFrame([said]));
        }
      }
    }
  }

  #sync(socket: RoomSocket, decoder: decoding.Decoder): void {
    const kind = decoding.readVarUint(decoder);
    const bytes = decoding.readVarUint8Array(decoder);
    if (kind !== SYNC_STEP_1) Y.applyUpdate(this.doc, bytes, socket);
    else socket.tell(syncFrame(SYNC_STEP_2, Y.encodeStateAsUpdate(this.doc, bytes)));
  }

  #mark(socket: RoomSocket, mark: number): void {
    this.marks += 1;
    const answer = (): void => socket.tell(encodeSavedMark(mark));
    if (this.#isStoring) answer();
    else this.#waiting.push(answer);
  }

  #piece(socket: RoomSocket, decoder: decoding.Decoder): void {
    const { total, offset, bytes } = readCopyPiece(decoder)!;
    this.pieces += 1;
    if (offset === 0) this.#copy = new Uint8Array(total);
    this.#copy.set(bytes, offset);
    const next = offset + bytes.length;
    if (next === total) Y.applyUpdate(this.doc, this.#copy, socket);
    if (this.asksOn) socket.tell(encodePieceWanted(next));
  }
}

export class MemoryRooms {
  /** Whether no socket comes about. */
  isDown = false;
  readonly #rooms = new Map<string, MemoryRoom>();
  /** What takes this in place of the browser's WebSocket comes to these rooms. */
  readonly socketClass: typeof WebSocket;

  constructor() {
    const rooms = this;
    this.socketClass = class extends RoomSocket {
      constructor(url: string) {
        super(rooms.room(new URL(url).pathname.split(`${SYNC_PATH}/`)[1]!), rooms.isDown);
      }
    } as unknown as typeof WebSocket;
  }

  /** The room of this name, such as `kites/design`. */
  room(name: string): MemoryRoom {
    const room = this.#rooms.get(name) ?? new MemoryRoom();
    this.#rooms.set(name, room);
    return room;
  }

  /** Breaks all lines; none comes about until `isDown` is false again. */
  cut(): void {
    this.isDown = true;
    for (const room of this.#rooms.values()) room.close(null);
  }
}
