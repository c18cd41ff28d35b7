/**
 * The line between a document here and its room on the server: connects, and comes back when the line breaks, until the
 * server has closed it for good.
 *
 * A renewed document. When the server has begun a new generation it brings over what this copy holds and closes the
 * line as `outdated`. The copy may go only if nothing was changed in it that the server has not confirmed: the close
 * was on its way while somebody here was still editing. Otherwise the line comes back with the same copy, and
 * the server brings the rest over.
 *
 * Where the next generation begins while the line stands, the server hands it over on the same socket (`engine/document/wire.ts`). What was edited
 * here and is not confirmed is put on it at once, in the same turn: nobody sees a board without it. How that is done is fetched then
 * (`next-generation.ts`); meanwhile what the server says of the next generation waits, and editing goes on.
 */
import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import {
  CLOSE_CODES,
  type CloseReason,
  encodeFollowed,
  encodeSavedMark,
  FOLLOWS_RENEWALS,
  HEARS_PROPOSALS,
  LIMITS,
  MESSAGE_COPY_PIECE,
  MESSAGE_NOTICE,
  MESSAGE_PROPOSALS,
  MESSAGE_RENEWED,
  MESSAGE_SAVED_MARK,
  MESSAGE_SYNC,
  readNotice,
  readPieceWanted,
  readRenewed,
  readSavedMark,
  SYNC_PATH,
  SYNC_STEP_1,
  SYNC_STEP_2,
} from '../../engine/document/index.ts';
import { CopySender } from './copy-sender.ts';
import { FullPause } from './full-pause.ts';
import type { NextGeneration, nextGeneration } from './next-generation.ts';
import { SaveLedger } from './save-ledger.ts';

/** `unkept`: the server cannot be told, and the browser has taken away the copy that would be kept meanwhile. */
export type SavedState = 'saved' | 'saving' | 'offline' | 'read-only' | 'damaged' | 'write-limit' | 'unkept';

export interface LineOptions {
  readonly doc: Y.Doc;
  /** Name of the room. */
  readonly room: string;
  /** Where the sockets are, such as `ws://127.0.0.1:8080`. */
  readonly server: string;
  readonly canEdit: boolean;
  /** Hears of every change of the line, and of what is saved. */
  readonly onChange: () => void;
  /** Hears when the server says that the board's proposals may be others; default: it is not asked to. */
  readonly onProposals?: () => void;
  /** Default: the server is not asked to hand over the next generation, and closes the line. */
  readonly renewal?: LineRenewal;
  /** The sockets to use where the browser's own are not there. */
  readonly socket?: typeof WebSocket;
  /** Bytes of a message at most; default: what the server takes. */
  readonly messageBytes?: number;
  /** Where it is heard that there is no connection, or one again; default: the page, where there is one. */
  readonly net?: Pick<EventTarget, 'addEventListener' | 'removeEventListener'>;
  /** Calls once, so much later; returns what calls that off. Default: the timers of where it runs. */
  readonly after?: (ms: number, call: () => void) => () => void;
}

/** What a line does when the next generation of its document begins. */
interface LineRenewal {
  /** How to go over to it; null when that cannot be had. */
  readonly fetch: () => Promise<typeof nextGeneration | null>;
  /** Is given its document, with all that was in hand, which the line keeps in step from then on in place of the former. */
  readonly onRenewed: (next: NextGeneration) => void;
}

/** After these the same socket would be closed again; after any other the provider connects anew. */
const FINAL: ReadonlySet<number> = new Set(
  (['malformed', 'forbidden', 'unknownBoard', 'tooLarge', 'revoked', 'deleted'] as const).map(
    (reason) => CLOSE_CODES[reason],
  ),
);

/** What the browser says of its connection. */
const NET_EVENTS = ['offline', 'online'] as const;

function byTimer(ms: number, call: () => void): () => void {
  const timer = setTimeout(call, ms);
  return () => clearTimeout(timer);
}

export class BoardLine {
  readonly provider: WebsocketProvider;
  readonly #options: LineOptions;
  readonly #ledger: SaveLedger;
  readonly #sender: CopySender;
  readonly #full: FullPause;
  #isStoreReadOnly = false;
  /** Whether some of what the server holds cannot be read; it says so to owners alone. */
  #isLogDamaged = false;
  #isWriteLimited = false;
  #closeReason: CloseReason | null = null;
  #isComing = true;
  readonly #net: LineOptions['net'] | null;
  /** The next generation, while it is not known yet how to go over to it; null = none begins. */
  #arriving: { readonly later: Uint8Array[] } | null = null;

  constructor(options: LineOptions) {
    this.#options = options;
    const { doc, room, server, onProposals, renewal, socket } = options;
    const params = {
      ...(onProposals === undefined ? {} : HEARS_PROPOSALS),
      ...(renewal === undefined ? {} : FOLLOWS_RENEWALS),
    };
    this.provider = new WebsocketProvider(`${server}${SYNC_PATH}`, room, doc, {
      disableBc: true,
      connect: false,
      maxBackoffTime: 5000,
      shouldReconnect: ({ code }: CloseEvent) => !this.#isFinal(code),
      params,
      ...(socket === undefined ? {} : { WebSocketPolyfill: socket }),
    });
    this.#ledger = new SaveLedger((mark) => this.#send(encodeSavedMark(mark)));
    this.#sender = new CopySender((frame) => this.#send(frame), options.messageBytes ?? LIMITS.messageBytes);
    this.#full = new FullPause(options.after ?? byTimer, () => this.provider.connect());
    this.#net = options.net ?? ('addEventListener' in globalThis ? globalThis : null);
    for (const name of NET_EVENTS) this.#net?.addEventListener(name, this.#onNet);
    this.#speakForOneself();
    this.#listen();
    doc.on('update', this.#onUpdate);
  }

  /** Whether the document is that of the server, but for what is on its way. */
  get isConnected(): boolean {
    return this.provider.wsconnected && this.provider.synced;
  }

  /** Whether the first socket has neither brought the document nor failed. */
  get isComing(): boolean {
    return this.#isComing;
  }

  get saved(): SavedState {
    if (!this.isConnected) return 'offline';
    if (this.#isStoreReadOnly) return this.#isLogDamaged ? 'damaged' : 'read-only';
    if (this.#isWriteLimited) return 'write-limit';
    return this.#ledger.isUnsaved ? 'saving' : 'saved';
  }

  /** Whether this copy may hold something that is not on the server's disk. */
  get isUnsaved(): boolean {
    return this.#ledger.isUnsaved;
  }

  /**
   * Why the server last closed the line; null when it did not, or when the line came back or will do so without a word. A full board stays
   * one until all is saved: the line comes back only to ask.
   */
  get closeReason(): CloseReason | null {
    return this.provider.wsconnected && this.#closeReason !== 'boardFull' ? null : this.#closeReason;
  }

  /** Whether the server has closed the line for good, with what this copy holds or without it. */
  get isEnded(): boolean {
    const reason = this.closeReason;
    return reason !== null && (reason === 'outdated' || FINAL.has(CLOSE_CODES[reason]));
  }

  connect(): void {
    this.provider.connect();
  }

  /** Gives up the line; the document stays. */
  destroy(): void {
    this.#full.stop();
    for (const name of NET_EVENTS) this.#net?.removeEventListener(name, this.#onNet);
    this.provider.destroy();
  }

  /**
   * The browser lost its connection, or has one again: a socket that stood may be dead without a word for half a minute, so it is let go, and
   * another one tried at once. A server on this machine answers without a connection too.
   */
  readonly #onNet = ({ type }: Event): void => {
    const { provider } = this;
    // Who was closed for good, or waits at a full board, stays so.
    if (!provider.shouldConnect || (type === 'online' && this.isConnected)) return;
    provider.disconnect();
    provider.connect();
  };

  /**
   * The provider repeats to the server what it hears of others. Of somebody who has said nothing of themselves yet the server would have to
   * take that for their own, and everybody's every move would come back from all.
   */
  #speakForOneself(): void {
    const { awareness, _awarenessUpdateHandler: tell } = this.provider;
    awareness.off('update', tell);
    awareness.on(
      'update',
      ({ added, updated, removed }: Record<'added' | 'updated' | 'removed', number[]>, origin: unknown) => {
        const own = awareness.clientID;
        if ([...added, ...updated, ...removed].includes(own))
          tell({ added: [own], updated: [], removed: [] }, origin);
      },
    );
  }

  /** Whether the provider leaves it at that; see {@link FullPause} for what comes after a full board. */
  #isFinal(code: number | undefined): boolean {
    if (code === CLOSE_CODES.boardFull) return true;
    if (code === CLOSE_CODES.outdated) return !this.#ledger.isUnsaved;
    return code !== undefined && FINAL.has(code);
  }

  readonly #onUpdate = (_update: Uint8Array, origin: unknown): void => {
    const { canEdit, onChange } = this.#options;
    if (origin === this.provider || !canEdit) return;
    this.#full.edited();
    if (!this.#ledger.edited()) return;
    queueMicrotask(() => {
      this.#ledger.due();
      onChange();
    });
  };

  /** Goes over to the next generation. */
  async #goOver(arriving: { readonly state: Uint8Array; readonly later: Uint8Array[] }): Promise<void> {
    const { renewal, onChange } = this.#options;
    const { provider } = this;
    this.#arriving = arriving;
    const make = await renewal?.fetch();
    // The line broke meanwhile: it comes back with the former copy.
    if (this.#arriving !== arriving) return;
    this.#arriving = null;
    const former = provider.doc;
    const isInHand = this.#ledger.isUnsaved;
    const next = make?.(former, arriving, isInHand, provider);
    if (!next) {
      // The server brings over what this copy holds, as that of somebody who was away.
      provider.disconnect();
      provider.connect();
      return;
    }
    const { doc, updates } = next;
    this.#sender.stop();
    former.off('update', provider._updateHandler);
    former.off('update', this.#onUpdate);
    provider.doc = doc;
    provider.awareness.doc = doc;
    doc.on('update', provider._updateHandler);
    doc.on('update', this.#onUpdate);
    // The former one is never destroyed, since presence would end with it.
    doc.on('destroy', () => provider.awareness.destroy());
    this.#send(encodeFollowed());
    for (const update of updates) provider._updateHandler(update, null);
    if (isInHand) this.#ledger.answered();
    renewal?.onRenewed(next);
    onChange();
  }

  #listen(): void {
    const { canEdit, onChange } = this.#options;
    const { provider } = this;
    const handlers = provider.messageHandlers;
    const readSync = handlers[MESSAGE_SYNC];
    if (readSync === undefined) throw new Error('the provider has no handler of sync messages');
    handlers[MESSAGE_SYNC] = (encoder, decoder, ...rest) => {
      // The kind of sync message stands first.
      const isQuestion = decoder.arr[decoder.pos] === SYNC_STEP_1;
      if (this.#arriving !== null) {
        decoding.readVarUint(decoder);
        // It is of the next generation. A question was asked before that, and needs no answer any more.
        if (!isQuestion) this.#arriving.later.push(decoding.readVarUint8Array(decoder).slice());
        return;
      }
      if (!isQuestion) {
        readSync(encoder, decoder, ...rest);
        return;
      }
      decoding.readVarUint(decoder);
      const answer = Y.encodeStateAsUpdate(provider.doc, decoding.readVarUint8Array(decoder));
      if (canEdit && this.#sender.begin(answer)) return;
      encoding.writeVarUint(encoder, MESSAGE_SYNC);
      encoding.writeVarUint(encoder, SYNC_STEP_2);
      encoding.writeVarUint8Array(encoder, answer);
      // The provider sends the answer when this handler has returned; the mark goes behind it.
      if (canEdit)
        queueMicrotask(() => {
          this.#ledger.answered();
          onChange();
        });
    };
    handlers[MESSAGE_SAVED_MARK] = (_encoder, decoder) => {
      const mark = readSavedMark(decoder);
      if (mark === null) throw new Error('the server sent a saved mark that is none');
      this.#ledger.heard(mark);
      if (!this.#ledger.isUnsaved) {
        this.#full.taken();
        this.#closeReason = null;
      }
      onChange();
    };
    handlers[MESSAGE_COPY_PIECE] = (_encoder, decoder) => {
      const wanted = readPieceWanted(decoder);
      if (wanted === null) throw new Error('the server asked for a piece that is none');
      if (!this.#sender.wanted(wanted)) return;
      this.#ledger.answered();
      onChange();
    };
    handlers[MESSAGE_NOTICE] = (_encoder, decoder) => {
      const notice = readNotice(decoder);
      if (notice === 'log-damaged') this.#isLogDamaged = true;
      else if (notice === 'write-limit') this.#isWriteLimited = true;
      else this.#isStoreReadOnly = notice === 'store-read-only';
      if (notice === 'store-ok') {
        this.#isWriteLimited = false;
        this.#ledger.recovered();
      }
      onChange();
    };
    handlers[MESSAGE_RENEWED] = (_encoder, decoder) => {
      const state = readRenewed(decoder);
      if (state === null) throw new Error('the server began a generation with nothing');
      void this.#goOver({ state: state.slice(), later: [] });
    };
    handlers[MESSAGE_PROPOSALS] = () => this.#options.onProposals?.();
    provider.on('sync', () => {
      this.#isComing = false;
      onChange();
    });
    provider.on('status', ({ status }) => {
      // A room that opens anew says by itself when it cannot store.
      if (status === 'connected') {
        this.#isStoreReadOnly = false;
        this.#isLogDamaged = false;
        this.#isWriteLimited = false;
        if (canEdit) this.#ledger.opened();
      } else {
        this.#ledger.closed();
        this.#sender.stop();
        this.#arriving = null;
      }
      onChange();
    });
    provider.on('connection-close', (event: { code: number } | null) => {
      this.#isComing = false;
      const reason = Object.entries(CLOSE_CODES).find(([, code]) => code === event?.code)?.[0];
      const isBack = reason === 'outdated' && !this.#isFinal(event?.code);
      this.#closeReason = isBack ? null : ((reason as CloseReason | undefined) ?? null);
      if (reason === 'boardFull') this.#full.refused();
      onChange();
    });
  }

  #send(frame: Uint8Array): void {
    const socket = this.provider.ws;
    if (socket !== null && socket.readyState === socket.OPEN) socket.send(frame as Uint8Array<ArrayBuffer>);
  }
}
