/**
 * An obvious model of where knots may be: a list of everything that anybody tied, by address. It reads only snapshots, so
 * it shares nothing with the document.
 */
import type { Command, DesignSnapshot } from '../../engine/document/index.ts';

interface Entry {
  readonly maker: number;
  readonly step: number;
  readonly knot: number;
}

/** Every shown knot by its address, untied ones included. */
export function knotsByAddress({ board, rowPairIds, stringPairIds }: DesignSnapshot): Map<string, number> {
  const { pattern } = board;
  const strings = pattern.colours.length;
  const shown = new Map<string, number>();
  for (let row = 0; row < pattern.rows; row++) {
    const parity = (pattern.start + row) & 1;
    for (let k = 0; k < (strings - parity) >> 1; k++) {
      const address = `${rowPairIds[(row + pattern.start) >> 1]} ${stringPairIds[k]} ${parity === 0 ? 'inside' : 'seam'}`;
      shown.set(address, pattern.knots[row * (strings >> 1) + k]!);
    }
  }
  return shown;
}

export class KnotLedger {
  readonly #tied = new Map<string, Entry[]>();
  /** Values that came with a pattern. */
  readonly #founded = new Map<string, number>();
  readonly #lastUndo = new Map<number, number>();

  /** Notes all knots of a pattern that was just written. */
  found(snapshot: DesignSnapshot): void {
    for (const [address, knot] of knotsByAddress(snapshot))
      if (!this.#founded.has(address)) this.#founded.set(address, knot);
  }

  /**
   * Notes what a maker's command did and checks that it did no more.
   * @returns what is wrong; null when nothing is
   */
  note(
    maker: number,
    step: number,
    command: Command,
    before: DesignSnapshot,
    after: DesignSnapshot,
  ): string | null {
    if (command.kind === 'load-board' || command.kind === 'replace-pattern') {
      this.found(after);
      return null;
    }
    const was = knotsByAddress(before);
    const is = knotsByAddress(after);
    const mayTie =
      command.kind === 'set-knots' || (command.kind === 'insert-string-pairs' && command.mirrored === true);
    for (const [address, knot] of is) {
      const earlier = was.get(address);
      if (knot === earlier) continue;
      if (mayTie) this.#push(address, { maker, step, knot });
      else if (earlier !== undefined)
        return `${command.kind} changed the knot at ${address} from ${earlier} to ${knot}`;
      else if (knot !== 0 && !this.#wasTied(address, knot))
        return `${command.kind} showed ${knot} at ${address}, where nobody tied it`;
    }
    return null;
  }

  noteUndo(maker: number, step: number): void {
    this.#lastUndo.set(maker, step);
  }

  /**
   * Checks a board against everything that was tied.
   * @returns what is wrong; null when nothing is
   */
  check(snapshot: DesignSnapshot): string | null {
    for (const [address, knot] of knotsByAddress(snapshot)) {
      if (knot !== 0 && !this.#wasTied(address, knot)) return `${knot} at ${address}, where nobody tied it`;
      const entries = this.#tied.get(address) ?? [];
      const [only] = entries;
      const isKept =
        only !== undefined && entries.length === 1 && (this.#lastUndo.get(only.maker) ?? -1) < only.step;
      if (isKept && only.knot !== knot)
        return `${only.knot} at ${address} is gone, though nobody untied it: ${knot}`;
      if (only === undefined && knot !== (this.#founded.get(address) ?? 0))
        return `${knot} at ${address}, which nobody touched since ${this.#founded.get(address) ?? 0} was written`;
    }
    return null;
  }

  #wasTied(address: string, knot: number): boolean {
    return (
      this.#founded.get(address) === knot ||
      (this.#tied.get(address) ?? []).some((entry) => entry.knot === knot)
    );
  }

  #push(address: string, entry: Entry): void {
    const entries = this.#tied.get(address);
    if (entries === undefined) this.#tied.set(address, [entry]);
    else entries.push(entry);
  }
}
