/** Variables ordered by how much they took part in conflicts lately, the most first: a binary heap with positions. */
export class ActivityHeap {
  #activity = new Float64Array(0);
  #heap = new Int32Array(0);
  #at = new Int32Array(0);
  #count = 0;
  #size = 0;

  /** Adds a variable, the next number, behind those there are. */
  append(): void {
    const variable = this.#count++;
    if (this.#count > this.#at.length) this.#makeRoom(Math.max(64, 2 * variable));
    this.#at[variable] = -1;
    this.insert(variable);
  }

  #makeRoom(length: number): void {
    const activity = new Float64Array(length);
    activity.set(this.#activity);
    this.#activity = activity;
    const heap = new Int32Array(length);
    heap.set(this.#heap);
    this.#heap = heap;
    const at = new Int32Array(length);
    at.set(this.#at);
    this.#at = at;
  }

  get isEmpty(): boolean {
    return this.#size === 0;
  }

  /** Puts a variable back in, where it is not in. */
  insert(variable: number): void {
    if (this.#at[variable]! >= 0) return;
    this.#at[variable] = this.#size;
    this.#heap[this.#size] = variable;
    this.#up(this.#size++);
  }

  /** The most active variable, taken out. The heap must not be empty. */
  takeFirst(): number {
    const first = this.#heap[0]!;
    const last = this.#heap[--this.#size]!;
    this.#at[first] = -1;
    if (this.#size > 0) {
      this.#heap[0] = last;
      this.#at[last] = 0;
      this.#down(0);
    }
    return first;
  }

  /** Adds to a variable's activity. */
  raise(variable: number, by: number): void {
    this.#activity[variable]! += by;
    const at = this.#at[variable]!;
    if (at >= 0) this.#up(at);
  }

  /** Makes all activities smaller by one factor, which keeps their order. */
  scale(factor: number): void {
    for (let i = 0; i < this.#count; i++) this.#activity[i]! *= factor;
  }

  #up(from: number): void {
    const heap = this.#heap;
    const at = this.#at;
    const activity = this.#activity;
    const variable = heap[from]!;
    const own = activity[variable]!;
    let i = from;
    while (i > 0) {
      const parent = (i - 1) >> 1;
      const other = heap[parent]!;
      if (activity[other]! >= own) break;
      heap[i] = other;
      at[other] = i;
      i = parent;
    }
    heap[i] = variable;
    at[variable] = i;
  }

  #down(from: number): void {
    const heap = this.#heap;
    const at = this.#at;
    const activity = this.#activity;
    const size = this.#size;
    const variable = heap[from]!;
    const own = activity[variable]!;
    let i = from;
    while (true) {
      let child = 2 * i + 1;
      if (child >= size) break;
      if (child + 1 < size && activity[heap[child + 1]!]! > activity[heap[child]!]!) child++;
      const other = heap[child]!;
      if (activity[other]! <= own) break;
      heap[i] = other;
      at[other] = i;
      i = child;
    }
    heap[i] = variable;
    at[variable] = i;
  }
}
