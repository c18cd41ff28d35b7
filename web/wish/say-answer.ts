/** What an answer is and what it shows, in words. */
import type { Board } from '../../engine/index.ts';
import { sayTally } from '../start/index.ts';
import { t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';
import type { WishAnswer } from '../worker/index.ts';

/** Under which condition it was found. */
export function sayKind({ kind, newRows, joined }: WishAnswer, { palette }: Board): string {
  const nameOf = (id: string): string => palette.find((colour) => colour.id === id)?.name || id;
  switch (kind) {
    case 'lead-in':
      return t('wish.kind.lead-in', { rows: newRows });
    case 'joined':
      return joined === null
        ? t('wish.kind.neat')
        : t('wish.kind.joined', { kept: nameOf(joined[0]), given: nameOf(joined[1]) });
    default:
      return t(`wish.kind.${kind}`);
  }
}

/** How much of the wish it shows. */
export function sayShown({ wrongCells, proven }: WishAnswer): string {
  const count = wrongCells.length;
  if (count === 0) return t('wish.all');
  return proven ? t('wish.missed', { count }) : t('wish.missedYet', { count });
}

/** The line of what it comes to, as the beginnings have; empty where a field of the board is out of range. */
export function sayCost({ tally }: WishAnswer): string {
  return tally === null ? '' : sayTally(tally, readUnit()).join(' · ');
}

/** How many knots change, of a part that is mended; empty for a board that is another one. */
export function sayChanges({ changed }: WishAnswer): string {
  if (changed === null) return '';
  return t(changed.isFewest ? 'wish.changesFewest' : 'wish.changes', { count: changed.count });
}

/** What takes more than the board has. */
const DEARER: readonly WishAnswer['kind'][] = ['lead-in', 'wider', 'joined'];

/** Answers to be offered, and those that take more than one of them and show no more: what it would take is known then, and that it is for nothing. */
export function splitAnswers(answers: readonly WishAnswer[]): {
  readonly offered: readonly WishAnswer[];
  readonly idle: readonly WishAnswer[];
} {
  const least = Math.min(
    ...answers.filter(({ kind }) => !DEARER.includes(kind)).map(({ wrongCells }) => wrongCells.length),
  );
  const isIdle = ({ kind, wrongCells }: WishAnswer): boolean =>
    DEARER.includes(kind) && wrongCells.length >= least;
  return { offered: answers.filter((one) => !isIdle(one)), idle: answers.filter(isIdle) };
}
