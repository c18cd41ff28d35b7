/** One JSON object a line. Never log cookies, links, bodies or whole requests: name the fields that go in. */

export type LogLevel = 'debug' | 'info' | 'warn' | 'error';
export type LogFields = Readonly<Record<string, string | number | boolean | null | undefined>>;
const LEVELS: readonly LogLevel[] = ['debug', 'info', 'warn', 'error'];

export class Log {
  readonly #write: (line: string) => void;
  readonly #now: () => number;
  readonly #from: number;

  constructor(write: (line: string) => void, now: () => number, level: LogLevel = 'info') {
    this.#write = write;
    this.#now = now;
    this.#from = LEVELS.indexOf(level);
  }

  debug(event: string, fields: LogFields = {}): void {
    this.#line('debug', event, fields);
  }

  info(event: string, fields: LogFields = {}): void {
    this.#line('info', event, fields);
  }

  warn(event: string, fields: LogFields = {}): void {
    this.#line('warn', event, fields);
  }

  error(event: string, fields: LogFields = {}): void {
    this.#line('error', event, fields);
  }

  #line(level: LogLevel, event: string, fields: LogFields): void {
    if (LEVELS.indexOf(level) < this.#from) return;
    this.#write(
      `${JSON.stringify({ time: new Date(this.#now()).toISOString(), level, event, ...fields })}\n`,
    );
  }
}

/** Reads a level from a setting; null when it is none. */
export function readLogLevel(value: string): LogLevel | null {
  return LEVELS.find((level) => level === value) ?? null;
}
