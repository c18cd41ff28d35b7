/**
 * Records what is written into documents, kind by kind and with the greatest lengths, by reading it back from Yjs: apart from the
 * code that holds updates against the table. And spells the table in the same words, so that the two can be compared.
 */
import * as Y from 'yjs';
import { ADMISSION, type ValueRule } from '../../engine/document/admission.ts';
import type { BoardPart } from '../../engine/document/index.ts';

/** For each place and kind the greatest length; 0 where a kind has none. */
export type Kinds = Map<string, number>;

function note(kinds: Kinds, label: string, length = 0): void {
  kinds.set(label, Math.max(kinds.get(label) ?? 0, length));
}

/** What one document says, as `<root>: <kind>`, lengths at their most. */
export class AdmissionRecord {
  readonly #kinds: Record<BoardPart, Kinds> = { design: new Map(), talk: new Map(), lesson: new Map() };

  kinds(part: BoardPart): Kinds {
    return this.#kinds[part];
  }

  /** Notes everything that updates bring, what they delete included. */
  note(part: BoardPart, updates: readonly Uint8Array[]): void {
    const doc = new Y.Doc({ gc: false });
    for (const update of updates) Y.applyUpdate(doc, update);
    if (doc.store.pendingStructs !== null) throw new Error('the updates recorded do not make a whole');
    const kinds = this.#kinds[part];
    for (const structs of doc.store.clients.values())
      for (const struct of structs) {
        if (!(struct instanceof Y.Item)) throw new Error(`a struct ${struct.constructor.name} was written`);
        const { content, parentSub } = struct;
        const root = Y.findRootTypeKey(struct.parent as Y.AbstractType<unknown>);
        if (parentSub === null) note(kinds, `${root}: entry`);
        else note(kinds, `${root}: key`, parentSub.length);
        if (content instanceof Y.ContentDeleted) continue;
        if (!(content instanceof Y.ContentAny)) throw new Error(`${content.constructor.name} in ${root}`);
        for (const value of content.arr as unknown[]) noteValue(kinds, root, value);
      }
    doc.destroy();
  }
}

function noteValue(kinds: Kinds, at: string, value: unknown): void {
  if (value === null) note(kinds, `${at}: null`);
  else if (typeof value === 'string') note(kinds, `${at}: text`, value.length);
  else if (value instanceof Uint8Array) note(kinds, `${at}: bytes`, value.length);
  else if (Array.isArray(value)) {
    note(kinds, `${at}: list`, value.length);
    for (const one of value) noteValue(kinds, `${at}[]`, one);
  } else if (typeof value === 'object') {
    note(kinds, `${at}: fields`);
    for (const [name, one] of Object.entries(value)) noteValue(kinds, `${at}.${name}`, one);
  } else note(kinds, `${at}: ${typeof value}`);
}

/** The table for one document, in the words of a record. */
export function tableKinds(part: BoardPart): Kinds {
  const kinds: Kinds = new Map();
  for (const { root, mostKey, values } of ADMISSION[part]) {
    if (mostKey === null) note(kinds, `${root}: entry`);
    else note(kinds, `${root}: key`, mostKey);
    for (const rule of values) noteRule(kinds, root, rule);
  }
  return kinds;
}

function noteRule(kinds: Kinds, at: string, rule: ValueRule): void {
  switch (rule.kind) {
    case 'text':
    case 'bytes':
      note(kinds, `${at}: ${rule.kind}`, rule.most);
      break;
    case 'list':
      note(kinds, `${at}: list`, rule.most);
      for (const one of rule.of) noteRule(kinds, `${at}[]`, one);
      break;
    case 'fields':
      note(kinds, `${at}: fields`);
      for (const [name, rules] of Object.entries(rule.of))
        for (const one of rules) noteRule(kinds, `${at}.${name}`, one);
      break;
    default:
      note(kinds, `${at}: ${rule.kind}`);
  }
}
