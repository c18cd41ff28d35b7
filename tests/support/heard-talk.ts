/** The talk about a board as a page reads it, and the server that it is said to, without a line between them. */
import * as Y from 'yjs';
import {
  readTalk,
  readTalkSend,
  remarkIdOf,
  type Speaker,
  Talk,
  type TalkCommand,
  type TalkSend,
  type TalkSnapshot,
} from '../../engine/document/index.ts';

export class HeardTalk {
  readonly doc = new Y.Doc();
  snapshot: TalkSnapshot = readTalk(this.doc);
  hasSynced = false;
  isConnected = false;
  /** What reached the server, and whether it does at all. */
  readonly got: TalkSend[] = [];
  isDown = false;
  /** With this the server refuses everything. */
  refusal: string | null = null;
  /** Whether what is done is answered. */
  isAnswerLost = false;
  /** What became of it for the page. */
  end: 'disposed' | 'forgotten' | null = null;
  readonly listeners = new Set<() => void>();
  #clock = 0;
  #count = 0;

  constructor() {
    this.doc.on('update', () => {
      this.snapshot = readTalk(this.doc);
      this.#tell();
    });
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  async forget(): Promise<void> {
    this.end = 'forgotten';
  }

  dispose(): void {
    this.end = 'disposed';
  }

  /** The line is there or gone; once it was there, all has been read. */
  connect(isConnected = true): void {
    this.isConnected = isConnected;
    this.hasSynced ||= isConnected;
    this.#tell();
  }

  /** Somebody says something. @returns the id of the remark, and of the thread where it opens one */
  say(by: Speaker, command: TalkCommand, id = String(++this.#count).padStart(16, 'n')): string {
    const own = remarkIdOf(by.id, id);
    const talk = new Talk(this.doc, { person: by, newId: () => own, now: () => ++this.#clock });
    const isThere = talk.snapshot.threads.some(({ remarks }) => remarks.some((one) => one.id === own));
    const done = isThere ? { ok: true as const } : talk.run(command);
    talk.dispose();
    if (!done.ok) throw new Error(`${command.kind} was refused: ${done.error.message}`);
    return own;
  }

  /** What a page asks of a server, in place of `fetch`. */
  readonly fetch = async (_path: string, { body }: RequestInit): Promise<Response> => {
    if (this.isDown) throw new TypeError('no line');
    const send = readTalkSend(JSON.parse(body as string));
    if (!send.ok) throw new Error(`not to be read: ${send.error.message}`);
    this.got.push(send.value);
    if (this.refusal !== null)
      return Response.json({ error: { kind: this.refusal, message: 'refused' } }, { status: 422 });
    const { by, command, id } = send.value;
    const remark = this.say(by, command, id);
    if (this.isAnswerLost) throw new TypeError('the line broke');
    return Response.json({ remark }, { status: 201 });
  };

  #tell(): void {
    for (const listener of [...this.listeners]) listener();
  }
}
