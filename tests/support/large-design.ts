/** A design that is large on the wire: knots packed under a pattern that nobody reads. */
import * as Y from 'yjs';

/** The document as one update. */
export function largeDesign(mebibytes: number): Uint8Array {
  const doc = new Y.Doc();
  const knots = doc.getMap('knots');
  for (let i = 0; i < mebibytes; i += 1) addMebibyte(knots, `b${i}`);
  const bytes = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return bytes;
}

/** Puts one of these into the knots of a design. */
export function addMebibyte(knots: Y.Map<unknown>, key: string): void {
  knots.set(key, { rows: 0, strings: 0, knots: new Uint8Array(1024 * 1024) });
}
