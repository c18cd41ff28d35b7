/** Somebody at a board as the page has it, without the page. */
import { expect } from 'vitest';
import * as Y from 'yjs';
import { Design } from '../../engine/document/index.ts';
import type { KnotCode } from '../../engine/index.ts';
import { BoardLine, type LineOptions } from '../../web/sync/board-line.ts';
import { type NextGeneration, nextGeneration } from '../../web/sync/next-generation.ts';
import { until } from '../support/until.ts';
import { Wire } from './held-socket.ts';

/** Rows of the boards that `makeBoard` makes, and knots on each at the least. */
export const ROWS = 12;
const PER_ROW = 3;

/** After these the line comes back by itself. */
const COMES_BACK: ReadonlySet<string> = new Set(['storeFailed', 'restarted', 'busy']);

interface LinePageOptions extends Pick<LineOptions, 'messageBytes' | 'after'> {
  /** Whether it goes over to the next generation while it is connected; default: it is closed and comes back. */
  readonly isFollower?: boolean;
}

/** A copy and its line, both given up when the line is closed as outdated. */
export class LinePage {
  readonly wire = new Wire();
  readonly #room: string;
  readonly #server: string;
  readonly #options: LinePageOptions;
  doc!: Y.Doc;
  line!: BoardLine;
  design!: Design;
  /** Knots tied here, by place, and row pairs added. */
  readonly knots = new Map<string, KnotCode>();
  pairs = 0;
  drops = 0;
  /** Whether it has had all that the server has; what comes at first may be an earlier state, with the rest behind it. */
  hasAll = false;
  /** Times that it was handed over to the next generation. */
  moves = 0;
  /** Times that it had something in hand then. */
  movesInHand = 0;

  constructor(server: string, board: string, options: LinePageOptions = {}) {
    this.#server = server;
    this.#options = options;
    this.#room = `${board}/design`;
    this.#begin();
  }

  #begin(): void {
    this.doc = new Y.Doc();
    this.hasAll = false;
    let count = 0;
    const newId = (): string => `${this.doc.clientID}-${count++}`;
    this.design = new Design(this.doc, { makerId: 'a', newId, captureMs: 0 });
    const { isFollower = false, ...options } = this.#options;
    const onRenewed = ({ doc, began }: NextGeneration): void => {
      this.moves += 1;
      if (this.line.isUnsaved) this.movesInHand += 1;
      this.doc = doc;
      this.design.moveTo(doc, began);
    };
    this.line = new BoardLine({
      doc: this.doc,
      room: this.#room,
      server: this.#server.replace(/\/sync$/, ''),
      canEdit: true,
      onChange: () => {
        this.hasAll ||= this.line.isConnected;
      },
      socket: this.wire.socketClass,
      ...(isFollower && { renewal: { fetch: async () => nextGeneration, onRenewed } }),
      ...options,
    });
    this.line.provider.maxBackoffTime = 3;
    this.line.connect();
  }

  /** Goes offline, and holds what a copy holds; it comes back once its wire is no longer down. */
  hold(copy: Y.Doc): void {
    this.wire.isDown = true;
    this.wire.cut();
    Y.applyUpdate(this.doc, Y.encodeStateAsUpdate(copy));
  }

  /** What the page does when it is told that the line is closed. */
  look(): void {
    const { closeReason } = this.line;
    if (closeReason === null || COMES_BACK.has(closeReason)) return;
    expect(closeReason).toBe('outdated');
    expect(this.line.isUnsaved).toBe(false);
    this.drops += 1;
    this.end();
    this.#begin();
  }

  /** Ties a knot at a place of its own, or adds a pair of rows at the end. */
  edit(random: () => number): void {
    if (this.design.state.kind === 'empty') return;
    const n = this.knots.size;
    if (n >= ROWS * PER_ROW || random() < 0.2) {
      const at = this.design.snapshot.rowPairIds.length;
      if (this.design.run({ kind: 'insert-row-pairs', at, count: 1 }).ok) this.pairs += 1;
      return;
    }
    const [row, k, knot] = [Math.floor(n / PER_ROW), n % PER_ROW, (1 + (n % 4)) as KnotCode];
    expect(this.design.run({ kind: 'set-knots', knots: [{ row, k, knot }] })).toEqual({ ok: true });
    this.knots.set(`${row} ${k}`, knot);
  }

  /** Ties knots again and again until the document is mostly its past; then unties them. */
  wear(random: () => number): void {
    for (let i = 0; i < 400; i += 1) {
      const [row, k] = [Math.floor(random() * ROWS), Math.floor(random() * PER_ROW)];
      const knot = Math.floor(random() * 5) as KnotCode;
      this.design.run({ kind: 'set-knots', knots: [{ row, k, knot }] });
    }
    for (let row = 0; row < ROWS; row += 1)
      this.design.run({
        kind: 'set-knots',
        knots: Array.from({ length: PER_ROW }, (_, k) => ({ row, k, knot: 0 as KnotCode })),
      });
  }

  /** Adds rows until the server finds the board full and turns the page away. */
  async fill(): Promise<void> {
    const settled = (): boolean => this.line.saved === 'saved' || this.line.closeReason === 'boardFull';
    await until('the page has the board', settled);
    while (this.line.closeReason !== 'boardFull') {
      const at = this.design.snapshot.rowPairIds.length;
      expect(this.design.run({ kind: 'insert-row-pairs', at, count: 20 })).toEqual({ ok: true });
      await until('the server has answered', settled);
    }
  }

  end(): void {
    this.line.destroy();
    this.design.dispose();
  }
}
