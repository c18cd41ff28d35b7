/** Whose turn it is: the parts of the product in turn, and a spare for each place that does not compile. */
import type { Drawn } from './draw.ts';
import type { Place } from './places.ts';

export class Turns {
  readonly #drawn: readonly Drawn[];
  readonly #begun = new Set<string>();
  readonly #replaced = new Set<string>();

  constructor(drawn: readonly Drawn[]) {
    this.#drawn = drawn;
  }

  /** Every place that may get its turn. */
  get places(): readonly Place[] {
    return this.#drawn.flatMap(({ places }) => places);
  }

  /** What became of a place, in this run or a former one. */
  note(id: string, isReplaced: boolean): void {
    this.#begun.add(id);
    if (isReplaced) this.#replaced.add(id);
  }

  /** The next place, of the part that has had fewest; undefined when all are done or under way. */
  next(): Place | undefined {
    const open = this.#drawn
      .map(({ wanted, places }) => {
        const counted = places.filter(({ id }) => this.#begun.has(id) && !this.#replaced.has(id)).length;
        return { counted, wanted, place: places.find(({ id }) => !this.#begun.has(id)) };
      })
      .filter(({ counted, wanted, place }) => counted < wanted && place !== undefined)
      .sort((a, b) => a.counted - b.counted);
    const place = open[0]?.place;
    if (place !== undefined) this.#begun.add(place.id);
    return place;
  }
}
