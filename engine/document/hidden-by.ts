/** Which values of a design make others unseen that no edit names. For who knows edits by their bytes alone. */
import { DOCUMENT_VERSION, type Roots, readScope } from './schema.ts';

/** Whether a value of `knots` is a base, over which all keys lie. */
export function isBase(root: string, value: unknown): boolean {
  return root === ('knots' satisfies keyof Roots) && typeof value === 'object';
}

/**
 * Whether a value, under whatever key of a root, may make others unseen: it may be another scope, a version that nobody reads, a base, or a
 * colourway that is removed.
 */
export function hidesOthers(root: string, value: unknown): boolean {
  switch (root as keyof Roots) {
    case 'meta':
      return readScope(value) !== null || (Number.isInteger(value) && (value as number) > DOCUMENT_VERSION);
    case 'knots':
      return isBase(root, value);
    case 'colourways':
      return value === null;
    default:
      return false;
  }
}
