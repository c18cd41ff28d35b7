/** Strokes and the pointer of a lesson as they are seen: each goes some seconds after it came. Nothing of it is kept. */

/** So long a stroke is seen, and a pointer that does not move. Rule R55. */
const SEEN_MS = 8_000;

/** Strings and rows in turn, in places of the board. */
type Stroke = readonly number[];
type Spot = readonly [string: number, row: number];

export class FadingInk {
  readonly #onChange: () => void;
  readonly #strokes = new Map<
    number,
    { readonly stroke: Stroke; readonly timer: ReturnType<typeof setTimeout> }
  >();
  #count = 0;
  #pointer: Spot | null = null;
  #lost: ReturnType<typeof setTimeout> | undefined;
  #shown: { readonly strokes: readonly Stroke[]; readonly pointer: Spot | null } = {
    strokes: [],
    pointer: null,
  };

  constructor(onChange: () => void) {
    this.#onChange = onChange;
  }

  /** The same object until something comes or goes. */
  get shown(): { readonly strokes: readonly Stroke[]; readonly pointer: Spot | null } {
    return this.#shown;
  }

  draw(stroke: Stroke): void {
    const id = this.#count++;
    const timer = setTimeout(() => {
      this.#strokes.delete(id);
      this.#changed();
    }, SEEN_MS);
    this.#strokes.set(id, { stroke, timer });
    this.#changed();
  }

  point(at: Spot | null): void {
    clearTimeout(this.#lost);
    if (at !== null) this.#lost = setTimeout(() => this.point(null), SEEN_MS);
    this.#pointer = at;
    this.#changed();
  }

  /** Nothing is seen any more. */
  clear(): void {
    for (const { timer } of this.#strokes.values()) clearTimeout(timer);
    clearTimeout(this.#lost);
    this.#strokes.clear();
    this.#pointer = null;
    this.#changed();
  }

  #changed(): void {
    this.#shown = {
      strokes: [...this.#strokes.values()].map(({ stroke }) => stroke),
      pointer: this.#pointer,
    };
    this.#onChange();
  }
}
