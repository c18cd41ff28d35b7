/** One text changed by two at once: both changes, nothing lost. */

interface Change {
  /** Part of the base that was replaced. */
  readonly from: number;
  readonly to: number;
  readonly by: string;
}

/** The one stretch in which a text differs from its base. */
function changeOf(base: string, text: string): Change {
  const most = Math.min(base.length, text.length);
  let from = 0;
  while (from < most && base[from] === text[from]) from++;
  let tail = 0;
  while (tail < most - from && base[base.length - 1 - tail] === text[text.length - 1 - tail]) tail++;
  return { from, to: base.length - tail, by: text.slice(from, text.length - tail) };
}

/**
 * What `mine` and `theirs` make of `base` together. Where both changed the same stretch, theirs follows mine.
 * O(length).
 */
export function mergeTexts(base: string, mine: string, theirs: string): string {
  if (mine === base || mine === theirs) return theirs;
  if (theirs === base) return mine;
  const [a, b] = [changeOf(base, mine), changeOf(base, theirs)];
  const isSamePlace = a.from === b.from && a.to === b.to;
  if (a.to <= b.from && !isSamePlace)
    return base.slice(0, a.from) + a.by + base.slice(a.to, b.from) + b.by + base.slice(b.to);
  if (b.to <= a.from && !isSamePlace)
    return base.slice(0, b.from) + b.by + base.slice(b.to, a.from) + a.by + base.slice(a.to);
  const [from, to] = [Math.min(a.from, b.from), Math.max(a.to, b.to)];
  const whole = ({ from: start, to: end, by }: Change): string =>
    base.slice(from, start) + by + base.slice(end, to);
  return `${base.slice(0, from) + whole(a)}\n${whole(b)}${base.slice(to)}`;
}
