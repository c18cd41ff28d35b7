/** What went wrong, as a sentence a maker understands: by the kind of the error, with the place where it is. */
import type { CommandError } from '../../engine/document/index.ts';
import type { BoardError } from '../../engine/index.ts';
import { currentLanguage, t } from '../text/index.ts';

/** Kinds whose English message says more than the kind does: which value, which limit. */
const TELLING = new Set<string>([
  'unknown-version',
  'out-of-range',
  'wrong-type',
  'wrong-count',
  'unknown-knot',
]);

/** A sentence without capital or full stop, to stand behind a colon. */
export function sayError({ kind, path, message }: BoardError | CommandError): string {
  const sentence = t(`error.${kind}`);
  if (TELLING.has(kind) && currentLanguage() === 'en') return `${sentence} (${message})`;
  return path === '' ? sentence : t('error.at', { sentence, path });
}

const SERVER_KINDS = [
  'unreachable',
  'unknown-board',
  'too-large',
  'too-many-tries',
  'too-many-boards',
  'forbidden',
  'busy',
] as const;

/** The same for what the server or the way to it said. */
export function sayServerError({
  kind,
  message,
}: {
  readonly kind: string;
  readonly message: string;
}): string {
  const known = SERVER_KINDS.find((one) => one === kind);
  return known === undefined ? t('error.server', { why: message }) : t(`error.${known}`);
}
