/** Somebody on a line: a page, a client of another program, or one who means harm, as a script has it. */
import * as Y from 'yjs';
import { CLOSE_CODES, encodeCopyPiece, encodeSavedMark } from '../../../engine/document/index.ts';
import { message, presenceMessage, readMessages } from '../raw-client.ts';
import { BINARY, CLOSE, PING, PONG, type WireLine } from './wire-line.ts';

/** What a client does and leaves undone. */
export interface Manners {
  /** Answers questions for what it holds. */
  readonly answers: boolean;
  /** Asks for the document. */
  readonly asks: boolean;
  /** Answers pings and closes. */
  readonly listens: boolean;
  /** Sends saved marks. */
  readonly marks: boolean;
  /** Answers in pieces of so many bytes; null = as one. */
  readonly pieceBytes: number | null;
}

export class Guest {
  readonly name: string;
  readonly board: string;
  readonly doc: Y.Doc;
  readonly line: WireLine;
  closeCode: number | null = null;
  readonly #manners: Manners;
  readonly #edits: Uint8Array[] = [];
  #answer: Uint8Array | null = null;
  #isIn = false;
  #mark = 0;
  #clock = 0;

  constructor(name: string, board: string, doc: Y.Doc, line: WireLine, manners: Manners) {
    this.name = name;
    this.board = board;
    this.doc = doc;
    this.line = line;
    this.#manners = manners;
    doc.on('update', this.#onUpdate);
  }

  readonly #onUpdate = (update: Uint8Array, origin: unknown): void => {
    if (origin !== 'server') this.#edits.push(update);
  };

  get isGone(): boolean {
    return this.closeCode !== null || this.line.destroyed;
  }

  /** Whether the server has let it in. */
  get isIn(): boolean {
    return this.#isIn && !this.isGone;
  }

  say(bytes: Uint8Array): void {
    this.line.say(BINARY, bytes);
  }

  /** Reads and answers what has come. @returns whether anything has */
  hear(): boolean {
    if (this.line.isUpgraded && !this.#isIn) {
      this.#isIn = true;
      if (this.#manners.asks) this.ask();
    }
    const frames = this.line.frames.splice(0);
    for (const { opcode, payload } of frames) {
      if (opcode === BINARY) this.#read(payload);
      else if (opcode === CLOSE) {
        this.closeCode = payload.length < 2 ? 1005 : payload.readUInt16BE(0);
        if (this.#manners.listens) {
          this.line.say(CLOSE, payload);
          this.line.endOfClient();
        }
      } else if (opcode === PING && this.#manners.listens) this.line.say(PONG, payload);
    }
    return frames.length > 0;
  }

  #read(payload: Buffer): void {
    for (const one of readMessages(payload)) {
      if (one.kind === 'step2' || one.kind === 'update') Y.applyUpdate(this.doc, one.bytes, 'server');
      else if (one.kind === 'step1' && this.#manners.answers) this.#reply(one.bytes);
      else if (one.kind === 'wanted') this.#piece(one.offset);
    }
  }

  #reply(vector: Uint8Array): void {
    const answer = Y.encodeStateAsUpdate(this.doc, vector);
    if (this.#manners.pieceBytes === null || answer.length <= this.#manners.pieceBytes) {
      this.say(message(0, 1, answer));
      return;
    }
    this.#answer = answer;
    this.#piece(0);
  }

  #piece(offset: number): void {
    const whole = this.#answer;
    if (whole === null) return;
    const bytes = whole.subarray(offset, offset + (this.#manners.pieceBytes ?? 0));
    if (bytes.length === 0) this.#answer = null;
    else this.say(encodeCopyPiece({ total: whole.length, offset, bytes }));
  }

  ask(): void {
    this.say(message(0, 0, Y.encodeStateVector(this.doc)));
  }

  /** Sends what was edited. */
  send(isTogether: boolean): void {
    const edits = this.#edits.splice(0);
    if (edits.length === 0) return;
    for (const edit of isTogether ? [Y.mergeUpdates(edits)] : edits) this.say(message(0, 2, edit));
    if (this.#manners.marks) this.mark();
  }

  /** Sends all but the first of what was edited. */
  sendWithoutFirst(): void {
    this.#edits.shift();
    this.send(false);
  }

  mark(): void {
    this.#mark += 1;
    this.say(encodeSavedMark(this.#mark));
  }

  show(client: number, state: string): void {
    this.#clock += 1;
    this.say(presenceMessage([{ client, clock: this.#clock, state }]));
  }

  /** Leaves, with a word or without. */
  leave(isPolite: boolean): void {
    this.closeCode ??= 1000;
    if (isPolite) {
      this.line.say(CLOSE, Buffer.from([3, 232]));
      this.line.endOfClient();
    } else this.line.destroy();
    this.doc.off('update', this.#onUpdate);
  }

  /** Whether it was told that its copy is of no use any more. */
  get isOutdated(): boolean {
    return this.closeCode === CLOSE_CODES.outdated;
  }
}
