/**
 * Finds truth values that meet a set of clauses, or shows that there are none: conflict-driven clause learning
 * (Marques-Silva and Sakallah 1999; two watched literals: Moskewicz et al. 2001; shape after Eén and Sörensson, "An extensible
 * SAT-solver", 2003; how many levels a learnt clause binds: Audemard and Simon 2009).
 *
 * Literals. Variable v is true in literal 2v and false in literal 2v + 1; `l ^ 1` is the opposite of l.
 * Clauses of two stand in `#pairs[l]`: what must be true once l is. Longer ones lie in one arena, `[size, levels, literals…]`, watched by
 * their first two literals: `#watches[l]` lists clause and a literal of it, turn about, that are looked at once l becomes true, that is
 * once the watched `l ^ 1` becomes false. A clause given up has size 0 and stays in the arena until the next collection.
 * Steps are the same on every machine: one for each clause looked into, with prices for the rest by measured time (a step is about 35 ns).
 */
import { ActivityHeap } from './activity-heap.ts';

/** `met`: `values` meets everything. `refuted`: nothing does under the assumptions. `out`: the steps are used up. */
export type ClauseVerdict = 'met' | 'refuted' | 'out';

const UNSET = 2;
const NO_REASON = 0;
/** Conflicts before the first restart; later ones follow Luby's sequence. */
const RESTART = 64;
const RESCALE = 1e100;
/** Steps of a literal whose conclusions are drawn, besides those of its clauses. */
const LITERAL_STEPS = 4;
/** Steps of a clause that is added. */
const ADD_STEPS = 10;

/** Luby's sequence, 1 1 2 1 1 2 4 …, from 0. Luby, Sinclair and Zuckerman 1993. */
function luby(index: number): number {
  let size = 1;
  let power = 0;
  while (size < index + 1) {
    size = 2 * size + 1;
    power++;
  }
  let at = index;
  while (size - 1 !== at) {
    size = (size - 1) >> 1;
    power--;
    at %= size;
  }
  return 2 ** power;
}

export class ClauseSolver {
  /** Variables there are, numbered from 0. */
  variables = 0;
  /** What the last `met` search found: 1 true, 0 false. May be longer than there are variables, as are the other arrays. */
  values = new Uint8Array(0);
  /** Which value a variable is tried with first; kept from search to search. */
  phase = new Uint8Array(0);
  /** Steps done so far. */
  steps = 0;
  /** Conflicts met so far. */
  conflicts = 0;
  /** After `refuted`: the assumptions that cannot all hold, none when nothing holds at all. */
  core: number[] = [];

  /** Value of each literal: 1 true, 0 false, 2 unset. */
  #value = new Uint8Array(0);
  #level = new Int32Array(0);
  /** Why a variable is set: 0 by choice or given, clause + 1, or minus (literal + 1), the other literal of a clause of two. */
  #reason = new Int32Array(0);
  #trail = new Int32Array(0);
  #trailSize = 0;
  #read = 0;
  readonly #levelStart: number[] = [];
  readonly #pairs: number[][] = [];
  readonly #watches: number[][] = [];
  #arena = new Int32Array(1 << 16);
  #arenaSize = 0;
  #learnt: number[] = [];
  readonly #heap = new ActivityHeap();
  #bump = 1;
  #seen = new Uint8Array(0);
  #isBroken = false;
  #restarts = 0;
  #mostLearnt = 4000;
  #conflict: number[] = [];
  #levelSeen = new Int32Array(1);
  #levelMark = 0;

  /** Adds variables. @returns the number of the first; the others follow it */
  addVariables(count: number): number {
    const first = this.variables;
    this.variables += count;
    if (this.variables > this.phase.length) this.#makeRoom(Math.max(this.variables, 2 * first));
    for (let variable = first; variable < this.variables; variable++) {
      this.#pairs.push([], []);
      this.#watches.push([], []);
      this.#heap.append();
    }
    return first;
  }

  #makeRoom(size: number): void {
    const bytes = (old: Uint8Array, length: number, fill: number): Uint8Array<ArrayBuffer> => {
      const larger = new Uint8Array(length).fill(fill);
      larger.set(old);
      return larger;
    };
    const numbers = (old: Int32Array, length: number): Int32Array<ArrayBuffer> => {
      const larger = new Int32Array(length);
      larger.set(old);
      return larger;
    };
    this.values = bytes(this.values, size, 0);
    this.phase = bytes(this.phase, size, 0);
    this.#seen = bytes(this.#seen, size, 0);
    this.#value = bytes(this.#value, 2 * size, UNSET);
    this.#level = numbers(this.#level, size);
    this.#reason = numbers(this.#reason, size);
    this.#trail = numbers(this.#trail, size);
    this.#levelSeen = numbers(this.#levelSeen, size + 1);
  }

  /** Adds a clause: one of the literals must hold. Only between searches. */
  add(literals: readonly number[]): void {
    this.steps += ADD_STEPS;
    if (this.#isBroken) return;
    const clause: number[] = [];
    for (const literal of literals) {
      const value = this.#value[literal]!;
      if (value === 1 || clause.includes(literal ^ 1)) return;
      if (value === UNSET && !clause.includes(literal)) clause.push(literal);
    }
    if (clause.length === 0) this.#isBroken = true;
    else if (clause.length === 1) {
      this.#set(clause[0]!, NO_REASON);
      if (!this.#propagate()) this.#isBroken = true;
    } else this.#attach(clause, 0);
  }

  /** Makes a variable likelier to be decided early. */
  favour(variable: number, by: number): void {
    this.#heap.raise(variable, by * this.#bump);
  }

  /**
   * Looks for values that meet all clauses and all assumptions.
   * @param assumptions literals that must hold in this search, decided in this order
   * @param mostSteps   after so many further steps it gives up
   */
  search(assumptions: readonly number[], mostSteps: number): ClauseVerdict {
    this.core = [];
    this.#backTo(0);
    if (this.#isBroken) return 'refuted';
    const end = this.steps + mostSteps;
    while (true) {
      const limit = RESTART * luby(this.#restarts++);
      const verdict = this.#searchUntilRestart(assumptions, limit, end);
      if (verdict !== 'restart') {
        this.#backTo(0);
        return verdict;
      }
      this.#backTo(0);
      if (this.#learnt.length > this.#mostLearnt) this.#forget();
    }
  }

  #searchUntilRestart(assumptions: readonly number[], limit: number, end: number): ClauseVerdict | 'restart' {
    let conflicts = 0;
    while (true) {
      if (!this.#propagate()) {
        this.conflicts++;
        conflicts++;
        if (this.#levelStart.length === 0) {
          this.#isBroken = true;
          return 'refuted';
        }
        this.#learn();
        continue;
      }
      if (this.steps > end) return 'out';
      if (conflicts >= limit) return 'restart';
      let next = -1;
      while (this.#levelStart.length < assumptions.length) {
        const literal = assumptions[this.#levelStart.length]!;
        const value = this.#value[literal]!;
        if (value === 1) this.#levelStart.push(this.#trailSize);
        else if (value === 0) {
          this.#explain(literal);
          return 'refuted';
        } else {
          next = literal;
          break;
        }
      }
      if (next < 0) next = this.#decide();
      if (next < 0) {
        for (let v = 0; v < this.variables; v++) this.values[v] = this.#value[2 * v] === 1 ? 1 : 0;
        return 'met';
      }
      this.#levelStart.push(this.#trailSize);
      this.#set(next, NO_REASON);
    }
  }

  #decide(): number {
    while (!this.#heap.isEmpty) {
      const variable = this.#heap.takeFirst();
      if (this.#value[2 * variable] === UNSET) return 2 * variable + (this.phase[variable] === 1 ? 0 : 1);
    }
    return -1;
  }

  #set(literal: number, reason: number): void {
    const variable = literal >> 1;
    this.#value[literal] = 1;
    this.#value[literal ^ 1] = 0;
    this.#level[variable] = this.#levelStart.length;
    this.#reason[variable] = reason;
    this.#trail[this.#trailSize++] = literal;
  }

  #backTo(level: number): void {
    if (this.#levelStart.length <= level) return;
    const from = this.#levelStart[level]!;
    for (let i = this.#trailSize - 1; i >= from; i--) {
      const literal = this.#trail[i]!;
      const variable = literal >> 1;
      this.#value[literal] = UNSET;
      this.#value[literal ^ 1] = UNSET;
      this.phase[variable] = (literal & 1) ^ 1;
      this.#heap.insert(variable);
    }
    this.#trailSize = from;
    this.#read = from;
    this.#levelStart.length = level;
  }

  #attach(clause: readonly number[], levels: number): number {
    const [first, second] = clause as [number, number];
    if (clause.length === 2) {
      this.#pairs[first ^ 1]!.push(second);
      this.#pairs[second ^ 1]!.push(first);
      return -1;
    }
    const need = this.#arenaSize + clause.length + 2;
    if (need > this.#arena.length) {
      const larger = new Int32Array(Math.max(need, this.#arena.length * 2));
      larger.set(this.#arena.subarray(0, this.#arenaSize));
      this.#arena = larger;
    }
    const at = this.#arenaSize;
    this.#arena[at] = clause.length;
    this.#arena[at + 1] = levels;
    for (let i = 0; i < clause.length; i++) this.#arena[at + 2 + i] = clause[i]!;
    this.#arenaSize = need;
    this.#watches[first ^ 1]!.push(at, second);
    this.#watches[second ^ 1]!.push(at, first);
    if (levels > 0) this.#learnt.push(at);
    return at;
  }

  /** Draws all conclusions; false at a conflict, whose literals then stand in `#conflict`. */
  #propagate(): boolean {
    const value = this.#value;
    const arena = this.#arena;
    while (this.#read < this.#trailSize) {
      const literal = this.#trail[this.#read++]!;
      const pairs = this.#pairs[literal]!;
      this.steps += LITERAL_STEPS;
      for (let i = 0; i < pairs.length; i++) {
        const other = pairs[i]!;
        const state = value[other]!;
        if (state === UNSET) this.#set(other, -(literal ^ 1) - 1);
        else if (state === 0) {
          this.#conflict = [other, literal ^ 1];
          return false;
        }
      }
      const watches = this.#watches[literal]!;
      const falseOne = literal ^ 1;
      const length = watches.length;
      let kept = 0;
      for (let i = 0; i < length; i += 2) {
        const clause = watches[i]!;
        const blocker = watches[i + 1]!;
        if (value[blocker] === 1) {
          watches[kept] = clause;
          watches[kept + 1] = blocker;
          kept += 2;
          continue;
        }
        this.steps++;
        const from = clause + 2;
        if (arena[from] === falseOne) {
          arena[from] = arena[from + 1]!;
          arena[from + 1] = falseOne;
        }
        const first = arena[from]!;
        const firstValue = value[first]!;
        if (firstValue === 1) {
          watches[kept] = clause;
          watches[kept + 1] = first;
          kept += 2;
          continue;
        }
        const end = from + arena[clause]!;
        let at = from + 2;
        while (at < end && value[arena[at]!] === 0) at++;
        if (at < end) {
          const other = arena[at]!;
          arena[from + 1] = other;
          arena[at] = falseOne;
          this.#watches[other ^ 1]!.push(clause, first);
          continue;
        }
        watches[kept] = clause;
        watches[kept + 1] = first;
        kept += 2;
        if (firstValue === 0) {
          for (i += 2; i < length; i += 2) {
            watches[kept] = watches[i]!;
            watches[kept + 1] = watches[i + 1]!;
            kept += 2;
          }
          watches.length = kept;
          this.#conflict = Array.from(arena.subarray(from, end));
          return false;
        }
        this.#set(first, clause + 1);
      }
      watches.length = kept;
    }
    return true;
  }

  /** Learns a clause from the conflict (first unique implication point), goes back and draws its conclusion. */
  #learn(): void {
    const seen = this.#seen;
    const present = this.#levelStart.length;
    const clause: number[] = [0];
    let open = 0;
    let at = this.#trailSize - 1;
    let lits: ArrayLike<number> = this.#conflict;
    let from = 0;
    let end = this.#conflict.length;
    let literal = -1;
    while (true) {
      for (let i = from; i < end; i++) {
        const other = lits[i]!;
        if (other === literal) continue;
        const variable = other >> 1;
        if (seen[variable] === 1 || this.#level[variable] === 0) continue;
        seen[variable] = 1;
        this.#heap.raise(variable, this.#bump);
        if (this.#level[variable]! >= present) open++;
        else clause.push(other);
      }
      while (seen[this.#trail[at]! >> 1] === 0) at--;
      literal = this.#trail[at--]!;
      seen[literal >> 1] = 0;
      if (--open === 0) break;
      const reason = this.#reason[literal >> 1]!;
      if (reason < 0) {
        lits = [-reason - 1];
        from = 0;
        end = 1;
      } else {
        lits = this.#arena;
        from = reason + 1;
        end = from + this.#arena[reason - 1]!;
      }
    }
    clause[0] = literal ^ 1;
    const all = clause.slice(1);
    const short = clause.filter((other, i) => i === 0 || !this.#isImplied(other));
    for (const other of all) seen[other >> 1] = 0;
    this.#bump *= 1 / 0.95;
    if (this.#bump > RESCALE) {
      this.#heap.scale(1 / RESCALE);
      this.#bump /= RESCALE;
    }
    let back = 0;
    if (short.length > 1) {
      let highest = 1;
      for (let i = 2; i < short.length; i++)
        if (this.#level[short[i]! >> 1]! > this.#level[short[highest]! >> 1]!) highest = i;
      const second = short[highest]!;
      short[highest] = short[1]!;
      short[1] = second;
      back = this.#level[second >> 1]!;
    }
    const levels = this.#countLevels(short);
    this.#backTo(back);
    if (short.length === 1) this.#set(short[0]!, NO_REASON);
    else {
      const stored = this.#attach(short, Math.max(1, levels));
      this.#set(short[0]!, stored < 0 ? -short[1]! - 1 : stored + 1);
    }
  }

  /** Whether a literal of the clause being learnt follows from its others, by its reason alone. */
  #isImplied(literal: number): boolean {
    const reason = this.#reason[literal >> 1]!;
    if (reason === NO_REASON) return false;
    const isTold = (other: number): boolean => this.#seen[other >> 1] === 1 || this.#level[other >> 1] === 0;
    if (reason < 0) return isTold(-reason - 1);
    const end = reason + 1 + this.#arena[reason - 1]!;
    for (let i = reason + 1; i < end; i++) {
      const other = this.#arena[i]!;
      if (other !== (literal ^ 1) && !isTold(other)) return false;
    }
    return true;
  }

  #countLevels(clause: readonly number[]): number {
    const mark = ++this.#levelMark;
    let count = 0;
    for (const literal of clause) {
      const level = this.#level[literal >> 1]!;
      if (this.#levelSeen[level] === mark) continue;
      this.#levelSeen[level] = mark;
      count++;
    }
    return count;
  }

  /** Finds the assumptions because of which `failed`, one of them, cannot hold. */
  #explain(failed: number): void {
    this.core = [failed];
    if (this.#levelStart.length === 0) return;
    const seen = this.#seen;
    seen[failed >> 1] = 1;
    for (let i = this.#trailSize - 1; i >= this.#levelStart[0]!; i--) {
      const literal = this.#trail[i]!;
      const variable = literal >> 1;
      if (seen[variable] === 0) continue;
      seen[variable] = 0;
      const reason = this.#reason[variable]!;
      if (reason === NO_REASON) {
        if (literal !== (failed ^ 1) || this.#level[variable]! > 0) this.core.push(literal);
      } else if (reason < 0) {
        const other = (-reason - 1) >> 1;
        if (this.#level[other]! > 0) seen[other] = 1;
      } else {
        const end = reason + 1 + this.#arena[reason - 1]!;
        for (let j = reason + 1; j < end; j++) {
          const other = this.#arena[j]! >> 1;
          if (other !== variable && this.#level[other]! > 0) seen[other] = 1;
        }
      }
    }
    seen[failed >> 1] = 0;
  }

  /** Gives up half of the learnt clauses, those that bind many levels, and tidies the arena. Only at level 0. */
  #forget(): void {
    const arena = this.#arena;
    const locked = new Set<number>();
    for (let i = 0; i < this.#trailSize; i++) {
      const reason = this.#reason[this.#trail[i]! >> 1]!;
      if (reason > 0) locked.add(reason - 1);
    }
    const order = this.#learnt
      .map((clause, age) => ({ clause, levels: arena[clause + 1]!, size: arena[clause]!, age }))
      .sort((a, b) => a.levels - b.levels || a.size - b.size || b.age - a.age);
    const keep = order.length >> 1;
    for (let i = keep; i < order.length; i++) {
      const { clause, levels } = order[i]!;
      if (levels > 2 && !locked.has(clause)) arena[clause] = -arena[clause]!;
    }
    this.#mostLearnt += 500;
    this.#collect();
  }

  /** Moves what is kept of the arena together; the watches are made anew. */
  #collect(): void {
    const arena = this.#arena;
    const learnt: number[] = [];
    const moved = new Map<number, number>();
    for (const list of this.#watches) list.length = 0;
    let to = 0;
    for (let at = 0; at < this.#arenaSize; ) {
      const size = arena[at]!;
      const length = Math.abs(size) + 2;
      if (size > 0) {
        moved.set(at, to);
        arena.copyWithin(to, at, at + length);
        const first = arena[to + 2]!;
        const second = arena[to + 3]!;
        this.#watches[first ^ 1]!.push(to, second);
        this.#watches[second ^ 1]!.push(to, first);
        if (arena[to + 1]! > 0) learnt.push(to);
        to += length;
      }
      at += length;
    }
    this.#arenaSize = to;
    this.#learnt = learnt;
    for (let i = 0; i < this.#trailSize; i++) {
      const variable = this.#trail[i]! >> 1;
      const reason = this.#reason[variable]!;
      if (reason > 0) this.#reason[variable] = moved.get(reason - 1)! + 1;
    }
  }
}
