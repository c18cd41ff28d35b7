/** Where the product can be changed, in an order that depends on its sources alone. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, sep } from 'node:path';
import { type Change, changesOf } from './operators.ts';
import { parse, walk } from './syntax.ts';

export interface Place extends Change {
  /** `engine/weave/weave.ts:41:12 < -> <=`: file, line and column from 1, what is changed. Never holds a comma. */
  readonly id: string;
  /** Path from the root of the tree, with `/`. */
  readonly file: string;
}

/** Parts of the product, each of which gets an equal share of the places. */
export const SHARES = ['engine', 'engine/document', 'server', 'web'] as const;
export type Share = (typeof SHARES)[number];

/** Which part of the product a file belongs to. */
export function shareOf(file: string): Share {
  return file.startsWith('engine/document/') ? 'engine/document' : (file.split('/')[0] as Share);
}

/** Tables of texts, and styles: what stands there is looked at, not computed. */
const NOT_CODE = /^web\/text\/|\.styles\.ts$|\.d\.ts$/;

/** Product sources of a tree that can be changed, sorted. */
export function productFiles(root: string): string[] {
  return ['engine', 'server', 'web']
    .flatMap((folder) =>
      readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).map((name) =>
        [folder, ...name.split(sep)].join('/'),
      ),
    )
    .filter((file) => file.endsWith('.ts') && !NOT_CODE.test(file))
    .sort();
}

/** Every place of one source, in the order of the text. */
export function placesIn(file: string, text: string): Place[] {
  const lineStarts = [0, ...Array.from(text.matchAll(/\n/g), ({ index }) => index + 1)];
  const idOf = ({ start, name }: Change): string => {
    const line = lineStarts.findLastIndex((at) => at <= start);
    return `${file}:${line + 1}:${start - lineStarts[line]! + 1} ${name}`;
  };
  return walk(parse(file, text), text)
    .flatMap((visit) => changesOf(visit, text))
    .map((change) => ({ ...change, id: idOf(change), file }))
    .sort((a, b) => a.start - b.start || (a.name < b.name ? -1 : 1));
}

/** Every place of a tree. */
export function allPlaces(root: string): Place[] {
  return productFiles(root).flatMap((file) => placesIn(file, readFileSync(join(root, file), 'utf8')));
}

/** A source with the place changed. */
export function mutate(text: string, { start, end, text: other }: Place): string {
  return text.slice(0, start) + other + text.slice(end);
}
