/** Updates written struct by struct, as no honest client would: the encoding of Yjs V1 by hand. */
import * as encoding from 'lib0/encoding';

/** Content of an item: its reference number, and what writes the rest. */
export interface CraftedContent {
  readonly ref: number;
  readonly write: (encoder: encoding.Encoder) => void;
  /** Clocks that it takes, where that is not one. */
  readonly length?: number;
}

/** One struct. Where it has an origin it names no parent; that is how Yjs writes it. */
export interface CraftedStruct {
  readonly origin?: readonly [client: number, clock: number];
  readonly rightOrigin?: readonly [client: number, clock: number];
  /** Name of a root, or id of the item whose content is the parent. */
  readonly parent?: string | readonly [client: number, clock: number];
  readonly key?: string;
  readonly content: CraftedContent;
}

export interface CraftedBlock {
  readonly client: number;
  readonly clock?: number;
  readonly structs: readonly CraftedStruct[];
}

/** Plain values. */
export const values = (...all: readonly unknown[]): CraftedContent => ({
  ref: 8,
  length: all.length,
  write: (encoder) => {
    encoding.writeVarUint(encoder, all.length);
    for (const one of all) encoding.writeAny(encoder, one as Parameters<typeof encoding.writeAny>[1]);
  },
});

/** One plain value, by the bytes of its encoding. */
export const rawValue = (bytes: Uint8Array): CraftedContent => ({
  ref: 8,
  write: (encoder) => {
    encoding.writeVarUint(encoder, 1);
    encoding.writeUint8Array(encoder, bytes);
  },
});

/** Lists in each other, so deep. */
export function nestedLists(depth: number): Uint8Array {
  const encoder = encoding.createEncoder();
  for (let i = 0; i < depth; i += 1) {
    encoding.writeUint8(encoder, 117);
    encoding.writeVarUint(encoder, 1);
  }
  encoding.writeAny(encoder, 1);
  return encoding.toUint8Array(encoder);
}

/** What is left of so many deleted entries. */
export const deleted = (length: number): CraftedContent => ({
  ref: 1,
  length,
  write: (encoder) => encoding.writeVarUint(encoder, length),
});

/** A shared type within a shared type: 0 list, 1 map, 2 text. */
export const sharedType = (kind: number): CraftedContent => ({
  ref: 7,
  write: (encoder) => encoding.writeVarUint(encoder, kind),
});

/** Characters of a shared text. */
export const characters = (text: string): CraftedContent => ({
  ref: 4,
  length: text.length,
  write: (encoder) => encoding.writeVarString(encoder, text),
});

/** A format of a shared text. */
export const format: CraftedContent = {
  ref: 6,
  write: (encoder) => {
    encoding.writeVarString(encoder, 'bold');
    encoding.writeVarString(encoder, 'true');
  },
};

/** Something embedded in a shared text, as JSON. */
export const embedded: CraftedContent = {
  ref: 5,
  write: (encoder) => encoding.writeVarString(encoder, '{}'),
};

/** Values as JSON text. */
export const json = (...texts: readonly string[]): CraftedContent => ({
  ref: 2,
  length: texts.length,
  write: (encoder) => {
    encoding.writeVarUint(encoder, texts.length);
    for (const text of texts) encoding.writeVarString(encoder, text);
  },
});

/** Bytes as a content of their own. */
export const bytesContent = (bytes: Uint8Array): CraftedContent => ({
  ref: 3,
  write: (encoder) => encoding.writeVarUint8Array(encoder, bytes),
});

/** A document within the document. */
export const subdocument: CraftedContent = {
  ref: 9,
  write: (encoder) => {
    encoding.writeVarString(encoder, 'inner');
    encoding.writeAny(encoder, {});
  },
};

/** A struct of which nothing is left, not even where it stood. */
export const collected = (length: number): CraftedContent => ({
  ref: 0,
  length,
  write: (encoder) => encoding.writeVarUint(encoder, length),
});

function writeId(encoder: encoding.Encoder, [client, clock]: readonly [number, number]): void {
  encoding.writeVarUint(encoder, client);
  encoding.writeVarUint(encoder, clock);
}

function writeStruct(encoder: encoding.Encoder, struct: CraftedStruct): void {
  const { origin, rightOrigin, parent, key, content } = struct;
  const isItem = content.ref !== 0;
  const info =
    content.ref | (origin ? 0x80 : 0) | (rightOrigin ? 0x40 : 0) | (isItem && key !== undefined ? 0x20 : 0);
  encoding.writeUint8(encoder, info);
  if (origin) writeId(encoder, origin);
  if (rightOrigin) writeId(encoder, rightOrigin);
  if (isItem && !origin && !rightOrigin && parent !== undefined) {
    encoding.writeVarUint(encoder, typeof parent === 'string' ? 1 : 0);
    if (typeof parent === 'string') encoding.writeVarString(encoder, parent);
    else writeId(encoder, parent);
    if (key !== undefined) encoding.writeVarString(encoder, key);
  }
  content.write(encoder);
}

/**
 * @param deletions ranges by client
 * @returns the update
 */
export function craftUpdate(
  blocks: readonly CraftedBlock[],
  deletions: readonly { readonly client: number; readonly clock: number; readonly length: number }[] = [],
): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, blocks.length);
  for (const { client, clock = 0, structs } of blocks) {
    encoding.writeVarUint(encoder, structs.length);
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, clock);
    for (const struct of structs) writeStruct(encoder, struct);
  }
  encoding.writeVarUint(encoder, deletions.length);
  for (const { client, clock, length } of deletions) {
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarUint(encoder, clock);
    encoding.writeVarUint(encoder, length);
  }
  return encoding.toUint8Array(encoder);
}

/** Entries of a list by two clients, each of which stands before the other: each is to be placed once the other is. */
export function waitingInACircle(): Uint8Array {
  const [one, two] = [2 ** 33 + 7, 2 ** 33 + 8];
  const entry = { origin: [one, 0], content: values('p.~1') } as const;
  return craftUpdate([
    { client: two, structs: [{ ...entry, rightOrigin: [one, 1] }] },
    {
      client: one,
      structs: [
        { parent: 'rowPairs', content: values('p.~1') },
        { ...entry, rightOrigin: [two, 0] },
      ],
    },
  ]);
}
