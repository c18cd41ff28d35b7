/** Version of a document, and whether it can be used. */
import type { RepairLog } from './repair.ts';
import { DOCUMENT_VERSION, type Roots, readScope } from './schema.ts';

/**
 * `ready`: can be read and edited. `empty`: nothing has arrived yet, or no board was ever written. `newer`: written by a
 * later version of this program; it is neither read nor written here.
 */
export type DocumentState =
  | { readonly kind: 'ready' }
  | { readonly kind: 'empty' }
  | { readonly kind: 'newer'; readonly version: number };

/** Reads the state. A version that is no whole number from 1 reads as 1. Rules D2 and D3. */
export function stateOf(roots: Roots, log: RepairLog): DocumentState {
  const stored = roots.meta.get('version');
  const isVersion = typeof stored === 'number' && Number.isSafeInteger(stored) && stored >= 1;
  if (isVersion && stored > DOCUMENT_VERSION) {
    log.note('newer-version', 'meta.version');
    return { kind: 'newer', version: stored };
  }
  if (readScope(roots.meta.get('generation')) === null) {
    log.note('no-generation', 'meta.generation');
    return { kind: 'empty' };
  }
  if (!isVersion) log.note('no-version', 'meta.version');
  return { kind: 'ready' };
}
