/** A line between a browser's provider and the server on which a test lets messages pass one by one. */
import WebSocket from 'ws';

type Handler = ((event: never) => void) | null;

/** Messages on their way, and what becomes of them. */
export class Wire {
  /** Lets everything pass at once. */
  isOpen = true;
  /** Whether new sockets come about. */
  isDown = false;
  readonly sockets = new Set<HeldSocket>();

  /** What takes this in place of the browser's WebSocket speaks over this wire. */
  readonly socketClass: typeof globalThis.WebSocket;

  constructor() {
    const wire = this;
    this.socketClass = class extends HeldSocket {
      constructor(url: string) {
        super(url, wire);
      }
    } as unknown as typeof globalThis.WebSocket;
  }

  /** Lets the first waiting message of a direction pass. @returns whether there was one */
  step(direction: 'up' | 'down'): boolean {
    for (const socket of this.sockets) {
      const next = socket[direction].shift();
      if (next === undefined) continue;
      next();
      return true;
    }
    return false;
  }

  /** Breaks the line: nothing that was on its way arrives, and the browser notices. */
  cut(): void {
    for (const socket of [...this.sockets]) socket.cut();
  }

  /** Lets everything pass from now on. */
  open(): void {
    this.isOpen = true;
    while (this.step('up') || this.step('down'));
  }
}

export class HeldSocket {
  readonly OPEN = 1;
  readyState = 0;
  binaryType = 'arraybuffer';
  onopen: Handler = null;
  onmessage: Handler = null;
  onclose: Handler = null;
  onerror: Handler = null;
  readonly up: (() => void)[] = [];
  readonly down: (() => void)[] = [];
  readonly #wire: Wire;
  readonly #socket: WebSocket;

  constructor(url: string, wire: Wire) {
    this.#wire = wire;
    wire.sockets.add(this);
    this.#socket = new WebSocket(url);
    this.#socket.binaryType = 'arraybuffer';
    if (wire.isDown) this.#socket.terminate();
    this.#socket.on('error', () => {});
    this.#socket.on('open', () =>
      this.#arrive(() => {
        this.readyState = 1;
        this.onopen?.({} as never);
      }),
    );
    this.#socket.on('message', (data) => this.#arrive(() => this.onmessage?.({ data } as never)));
    this.#socket.on('close', (code) => this.#arrive(() => this.#end(code)));
  }

  send(bytes: Uint8Array): void {
    const copy = bytes.slice();
    const pass = (): void => {
      if (this.#socket.readyState === WebSocket.OPEN) this.#socket.send(copy);
    };
    if (this.#wire.isOpen && this.up.length === 0) pass();
    else this.up.push(pass);
  }

  close(): void {
    this.cut();
  }

  cut(): void {
    this.up.length = 0;
    this.down.length = 0;
    this.#socket.terminate();
    this.#end(1006);
  }

  #arrive(event: () => void): void {
    if (this.#wire.isOpen && this.down.length === 0) event();
    else this.down.push(event);
  }

  #end(code: number): void {
    if (!this.#wire.sockets.delete(this)) return;
    this.readyState = 3;
    this.onclose?.({ code, reason: '' } as never);
  }
}
