/** What the person was told of, kept in this browser: what one did in an earlier visit is compared with the board at each coming, and told once. */
import type { KeyChange } from '../../engine/document/index.ts';

type Shelf = Pick<Storage, 'getItem' | 'setItem'>;

/** The oldest go first. */
const MOST = 1_000;

export class ToldAlready {
  readonly #shelf: Shelf;
  readonly #key: string;

  constructor(shelf: Shelf, boardId: string, personId: string) {
    this.#shelf = shelf;
    this.#key = `larkboard.told.${boardId}.${personId}`;
  }

  has(change: Pick<KeyChange, 'root' | 'key'>): boolean {
    return this.#read().has(nameOf(change));
  }

  add(changes: readonly KeyChange[]): void {
    const told = this.#read();
    for (const change of changes) {
      told.delete(nameOf(change));
      told.add(nameOf(change));
    }
    this.#write(told);
  }

  /** One wrote there anew: what becomes of that is told again. */
  forget(changes: readonly KeyChange[]): void {
    const told = this.#read();
    const isOther = changes.filter((change) => told.delete(nameOf(change))).length > 0;
    if (isOther) this.#write(told);
  }

  #read(): Set<string> {
    const text = this.#shelf.getItem(this.#key);
    if (text === null) return new Set();
    try {
      const value: unknown = JSON.parse(text);
      return new Set(Array.isArray(value) ? value.filter((one) => typeof one === 'string') : []);
    } catch (cause) {
      if (!(cause instanceof SyntaxError)) throw cause;
      return new Set();
    }
  }

  #write(told: ReadonlySet<string>): void {
    this.#shelf.setItem(this.#key, JSON.stringify([...told].slice(-MOST)));
  }
}

function nameOf({ root, key }: Pick<KeyChange, 'root' | 'key'>): string {
  return `${root} ${key}`;
}
