/** Words that were typed and are written nowhere, while no field shows them: the page says so until they are kept or let go. */
import type { TextSource } from '../../engine/document/index.ts';
import { Subject } from '../context/index.ts';
import { TextInHand } from './text-in-hand.ts';

const left = new Subject<readonly TextInHand[]>([]);
const hands = new WeakMap<TextSource, TextInHand>();

/** Those that are left now. */
export function leftWords(): Subject<readonly TextInHand[]> {
  return left;
}

/** The one hand that holds a text, whichever field shows it: what is typed outlives its field. */
export function handOf(source: TextSource): TextInHand {
  let hand = hands.get(source);
  if (hand === undefined) {
    hand = new TextInHand(source, after, tell);
    hands.set(source, hand);
  }
  return hand;
}

/** Lets go of words for good. */
export function letWords(hand: TextInHand): void {
  hand.giveUp();
  left.set(left.value.filter((one) => one !== hand));
}

/** Shown anew also where only its words are others. */
function tell(hand: TextInHand): void {
  const others = left.value.filter((one) => one !== hand);
  left.set(hand.isLeft ? [...others, hand] : others);
}

function after(ms: number, call: () => void): () => void {
  const timer = setTimeout(call, ms);
  return () => clearTimeout(timer);
}
