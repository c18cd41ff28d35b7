/**
 * What is shown before there is a page (`web/first-sight.ts`), and its end. What nobody waits for to see the board is fetched after that, so
 * that it takes nothing of a slow line.
 */
let tell: () => void = () => {};
const seen = new Promise<void>((resolve) => {
  tell = resolve;
});

/** The page itself is there to be seen: what stood in its place goes. */
export function endFirstSight(): void {
  document.getElementById('sight')?.remove();
  tell();
}

/** Fulfils once the page itself was seen. */
export function whenSeen(): Promise<void> {
  return seen;
}
